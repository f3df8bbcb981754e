//! The priced ledger: blocks of columns that the engine evaluates and the workbook shows as formulas.

mod alternates;
pub mod assumptions;
mod beside;
pub mod budget;
pub mod build;
pub mod cautions;
pub mod change_order;
pub mod changes;
pub mod client;
pub mod estimate;
pub mod evaluate;
pub mod explain;
mod idle;
pub mod ledger;
mod naming;
pub mod ranges;
mod rechosen;
pub mod stretch;
pub mod suppliers;
pub mod term;
#[cfg(test)]
mod trial;
mod validity;

pub use alternates::{Alternate, Outcome, with_alternates};
pub use estimate::{
    AreaMoney, BedMoney, Due, Estimate, Figure, FigureKind, Group, KindMoney, PlaceMoney, Price,
    PriceLine,
};
pub use idle::is_idle;
pub use rechosen::{Rechosen, estimate_anew, estimate_holding};
pub use validity::{Validity, days};
