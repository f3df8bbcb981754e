//! Worked examples of whole beds.

mod blocks;
mod boards;
mod fills;
mod heights;
mod joined;
mod limits;
mod panels;
mod settlement;
mod skins;
mod stone;
mod timbers;
mod walls;
