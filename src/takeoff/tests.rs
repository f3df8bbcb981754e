//! Worked examples of whole beds.

mod boards;
mod fills;
mod heights;
mod limits;
mod panels;
mod settlement;
mod skins;
mod walls;
