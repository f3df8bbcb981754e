//! From lengths to paper: hundredths of a millimetre, at a scale that drawings of the trade have.

use rust_decimal::prelude::ToPrimitive;
use rust_decimal::{Decimal, RoundingStrategy};

use crate::units::{Length, System};

/// Hundredths of a millimetre on paper.
pub type Paper = i64;

/// One millimetre on paper.
pub const MM: Paper = 100;

/// Scales of metric drawings.
const METRIC: [u32; 10] = [5, 10, 15, 20, 25, 50, 75, 100, 200, 500];
/// Scales of US drawings with the inches on paper that show a foot.
const US: [(u32, &str); 10] = [
    (8, "1 1/2"),
    (12, "1"),
    (16, "3/4"),
    (24, "1/2"),
    (32, "3/8"),
    (48, "1/4"),
    (64, "3/16"),
    (96, "1/8"),
    (192, "1/16"),
    (384, "1/32"),
];

/// How much smaller paper is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    /// Lengths divided by this stand on paper.
    pub one_to: u32,
    /// In which units it is told.
    pub system: System,
}

impl Scale {
    /// The largest usual scale at which something of this extent fits into so much paper.
    pub fn that_fits(
        (length, height): (Length, Length),
        (wide, high): (Paper, Paper),
        system: System,
    ) -> Self {
        let usual: Vec<u32> = match system {
            System::Metric => METRIC.to_vec(),
            System::UsCustomary => US.iter().map(|(n, _)| *n).collect(),
        };
        let fits = |one_to: &u32| {
            let scale = Self {
                one_to: *one_to,
                system,
            };
            scale.paper(length) <= wide && scale.paper(height) <= high
        };
        let one_to = usual.iter().copied().find(fits).unwrap_or_else(|| {
            let steps = (1_u32..=100_000).map(|n| n.saturating_mul(1_000));
            steps.into_iter().find(fits).unwrap_or(u32::MAX)
        });
        Self { one_to, system }
    }

    /// A length on paper.
    pub fn paper(self, length: Length) -> Paper {
        let hundredths = length.in_millimetres().saturating_mul(Decimal::from(MM));
        let small = hundredths.checked_div(Decimal::from(self.one_to));
        let whole = small
            .unwrap_or_default()
            .round_dp_with_strategy(0, RoundingStrategy::MidpointAwayFromZero);
        // Limits of input keep it far below this.
        whole.to_i64().unwrap_or(Paper::MAX / 4)
    }

    /// `1:20`, or `1/2 in = 1 ft (1:24)`.
    pub fn words(self) -> String {
        let ratio = format!("1:{}", self.one_to);
        let inches = US.iter().find(|(n, _)| *n == self.one_to);
        match (self.system, inches) {
            (System::UsCustomary, Some((_, inches))) => format!("{inches} in = 1 ft ({ratio})"),
            _ => ratio,
        }
    }
}

/// Half of a stretch of paper.
pub(super) const fn half(paper: Paper) -> Paper {
    paper / 2
}

#[cfg(test)]
mod tests {
    use super::*;

    fn m(text: &str) -> Length {
        Length::metres(text.parse().unwrap())
    }

    #[test]
    fn the_largest_usual_scale_that_fits_is_taken() {
        // 2.4 m in 80 mm: 1:30 at least, so 1:50; 48 mm.
        let scale = Scale::that_fits((m("2.4"), m("1.2")), (80 * MM, 60 * MM), System::Metric);
        assert_eq!((scale.one_to, scale.words()), (50, "1:50".to_owned()));
        assert_eq!(scale.paper(m("2.4")), 48 * MM);
        // 8 ft in 80 mm: 2438.4/80 = 30.5, so 3/8 in to the foot; 76.2 mm.
        let foot = Length::feet(Decimal::from(8));
        let scale = Scale::that_fits((foot, m("0.3")), (80 * MM, 60 * MM), System::UsCustomary);
        assert_eq!(scale.words(), "3/8 in = 1 ft (1:32)");
        assert_eq!(scale.paper(foot), 7_620);
    }

    #[test]
    fn what_no_usual_scale_holds_is_drawn_all_the_same() {
        let scale = Scale::that_fits((m("900"), m("10")), (80 * MM, 60 * MM), System::Metric);
        assert_eq!(scale.one_to, 12_000);
    }
}
