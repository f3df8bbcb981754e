//! What the job took from the library or left to a rule, as it stands under Assumptions.

/// One figure that the job did not give.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// What it is: `Compost: loss when wetted down`.
    pub what: String,
    /// Its value with the unit: `15%`.
    pub value: String,
    /// Where it comes from: a source seen, `typical, change it to your own`, or `not set, taken as 0%`.
    pub basis: String,
    /// How sure it is: `published`, `typical-range`, `assumption`.
    pub confidence: String,
    /// What it was used for.
    pub used_for: String,
}
