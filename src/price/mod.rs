//! The priced ledger: blocks of columns that the engine evaluates and the workbook shows as formulas.

pub mod assumptions;
pub mod cautions;
mod naming;
#[cfg(test)]
mod trial;
