//! Worked examples of labour, with their arithmetic.

mod blank;
mod days;
mod extras;
mod hauling;
mod hire;
mod hours;
mod laws;
mod volunteers;
mod yard;
