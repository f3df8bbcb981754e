//! Worked examples of whole beds.

mod fills;
mod heights;
mod settlement;
mod skins;
mod walls;
