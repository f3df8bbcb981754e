//! Worked examples of whole beds.

mod fills;
mod walls;
