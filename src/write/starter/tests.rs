//! What holds for every starter, whatever its purpose and units.
