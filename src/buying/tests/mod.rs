//! Worked examples and laws of buying.

mod choosing;
mod cutting;
mod laws;
mod loose;
mod packed;
mod sample;
