//! The priced ledger: blocks of columns that the engine evaluates and the workbook shows as formulas.

pub mod cautions;
