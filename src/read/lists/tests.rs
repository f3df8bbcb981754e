//! Lists.
