//! Placeholder while compiling.
