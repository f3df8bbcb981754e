//! The job as it is meant: beds, frames, fills, materials, offers, people. No file is opened here.

pub mod alternate;
pub mod bed;
pub mod block;
#[cfg(test)]
pub(crate) mod by_hand;
pub mod by_measure;
pub mod calendar;
pub mod choices;
pub mod drip;
mod driver;
pub mod fill;
pub mod frame;
pub mod funding;
pub mod ground;
pub mod job;
pub mod known;
pub mod labour;
pub mod library;
pub mod material;
pub mod naming;
pub mod offer;
pub mod overrides;
pub mod price_list;
pub mod quote;
pub mod setting_titles;
pub mod settings;
pub mod sheet;
pub mod source;
pub mod spread;

/// Declares a newtype index into one of the job's lists.
macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);

        impl $name {
            /// As an index.
            pub fn index(self) -> usize {
                usize::try_from(self.0).unwrap_or(usize::MAX)
            }

            /// From an index; indices past four billion cannot occur (row limits) and saturate.
            pub fn of(index: usize) -> Self {
                Self(u32::try_from(index).unwrap_or(u32::MAX))
            }
        }
    };
}
pub(crate) use id;
