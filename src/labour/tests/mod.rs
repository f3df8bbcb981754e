//! Worked examples of labour, with their arithmetic.

mod days;
mod extras;
mod hauling;
mod hire;
mod hours;
mod laws;
mod volunteers;
