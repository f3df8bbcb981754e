//! The priced ledger: blocks of columns that the engine evaluates and the workbook shows as formulas.

pub mod assumptions;
pub mod build;
pub mod cautions;
pub mod estimate;
pub mod evaluate;
pub mod ledger;
mod naming;
pub mod term;
#[cfg(test)]
mod trial;

pub use estimate::{AreaMoney, BedMoney, Estimate, Group, KindMoney, PlaceMoney, Price, PriceLine};
