//! The words of the `Job` sheet: titles of settings, and what their values may say.

use super::reading::Words;
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, TaxMode, TopUp, TrimmedEnds};
use crate::units::System;
use crate::units::parse::Commas;

/// A setting with a few words to choose from, and what is taken when it is not set.
pub(super) struct Choice<T: 'static> {
    /// Its title.
    pub(super) title: &'static str,
    /// What it may say.
    pub(super) words: &'static Words<T>,
    /// What is taken when it says nothing.
    pub(super) otherwise: T,
    /// And in which words that is listed.
    pub(super) said: &'static str,
}

/// What commas in numbers are.
pub(super) const DECIMAL_MARKS: &Words<Commas> = &[
    (&["point", "dot", "full stop", "."], Commas::Thousands),
    (&["comma", ","], Commas::Decimal),
];
/// Systems of units.
pub(super) const SYSTEMS: &Words<System> = &[
    (
        &[
            "US",
            "US customary",
            "customary",
            "USA",
            "imperial",
            "feet",
            "ft",
            "inches",
        ],
        System::UsCustomary,
    ),
    (&["metric", "SI", "m", "mm"], System::Metric),
];
/// Sizes of paper.
pub(super) const PAPERS: &Words<Paper> = &[
    (&["Letter", "US Letter"], Paper::Letter),
    (&["A4"], Paper::A4),
];
/// Moments for which beds are full.
pub(super) const MOMENTS: &Words<FullAfter> = &[
    (&["wet-down", "wetting down"], FullAfter::WetDown),
    (
        &["first season", "season", "one season"],
        FullAfter::FirstSeason,
    ),
];
/// What may happen about the top-up.
pub(super) const TOP_UPS: &Words<TopUp> = &[
    (&["offered", "offer"], TopUp::Offered),
    (&["included", "include"], TopUp::Included),
    (&["none", "no"], TopUp::None),
];
/// Ends of sticks that may be trimmed.
pub(super) const ENDS: &Words<TrimmedEnds> = &[
    (&["both", "two", "both ends", "2"], TrimmedEnds::Both),
    (&["one", "one end", "1"], TrimmedEnds::One),
];
/// What profit may be a share of.
pub(super) const PROFITS: &Words<ProfitAs> = &[
    (&["markup", "mark-up"], ProfitAs::Markup),
    (&["margin"], ProfitAs::Margin),
];
/// Ways to deal with tax.
pub(super) const TAX_MODES: &Words<TaxMode> = &[
    (&["none", "no tax"], TaxMode::None),
    (
        &["on purchases", "paid on purchases", "purchases"],
        TaxMode::OnPurchases,
    ),
    (
        &["on materials", "materials", "on materials lines"],
        TaxMode::OnMaterials,
    ),
    (
        &[
            "on the whole price",
            "whole price",
            "on the price",
            "on price",
            "price",
        ],
        TaxMode::OnPrice,
    ),
    (
        &["on categories", "on chosen categories", "categories"],
        TaxMode::OnCategories,
    ),
];
/// Ways to choose suppliers.
pub(super) const BUYINGS: &Words<Buying> = &[
    (&["least cost", "cheapest"], Buying::LeastCost),
    (&["one supplier", "single supplier"], Buying::OneSupplier),
    (&["as marked", "preferred"], Buying::AsMarked),
];

/// Paper of jobs in US units.
pub(super) const US_PAPER: Choice<Paper> = Choice {
    title: "Paper",
    words: PAPERS,
    otherwise: Paper::Letter,
    said: "not set, taken as Letter",
};
/// Paper of metric jobs.
pub(super) const METRIC_PAPER: Choice<Paper> = Choice {
    title: "Paper",
    words: PAPERS,
    otherwise: Paper::A4,
    said: "not set, taken as A4",
};
/// The moment for which beds are full.
pub(super) const FULL_AFTER: Choice<FullAfter> = Choice {
    title: "Full after",
    words: MOMENTS,
    otherwise: FullAfter::WetDown,
    said: "not set, taken as wet-down",
};
/// What happens about the top-up.
pub(super) const TOP_UP: Choice<TopUp> = Choice {
    title: "Top-up",
    words: TOP_UPS,
    otherwise: TopUp::Offered,
    said: "not set, taken as offered",
};
/// Which ends of sticks are trimmed.
pub(super) const TRIMMED_ENDS: Choice<TrimmedEnds> = Choice {
    title: "Trimmed ends",
    words: ENDS,
    otherwise: TrimmedEnds::Both,
    said: "not set, taken as both",
};
/// What profit is a share of.
pub(super) const PROFIT_AS: Choice<ProfitAs> = Choice {
    title: "Profit as",
    words: PROFITS,
    otherwise: ProfitAs::Markup,
    said: "not set, taken as markup",
};
/// How tax is dealt with.
pub(super) const TAX_MODE: Choice<TaxMode> = Choice {
    title: "Tax mode",
    words: TAX_MODES,
    otherwise: TaxMode::None,
    said: "not set, taken as none",
};
/// How suppliers are chosen.
pub(super) const BUYING: Choice<Buying> = Choice {
    title: "Buying",
    words: BUYINGS,
    otherwise: Buying::LeastCost,
    said: "not set, taken as least cost",
};
