//! The built-in trade library: typical figures that a job falls back on, each with its source.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::block::BlockSize;
use super::labour::Driver;
use super::material::{Category, Section};
use super::overrides::Override;
use crate::units::System;

/// How a figure is backed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Checked {
    /// Seen in the named source.
    Read,
    /// Computed.
    Computed,
    /// Not seen in a source: printed as `typical, change it to your own`, never with an authority.
    Recalled,
}

/// Where a row's figures come from.
#[derive(Clone, Debug)]
pub struct Backing {
    /// Title, publisher, year.
    pub source: Arc<str>,
    /// `published`, `typical-range` or `assumption`.
    pub confidence: Arc<str>,
    /// Whether the source was seen.
    pub checked: Checked,
}

/// What is said of a figure that nobody looked up.
pub const TYPICAL: &str = "typical, change it to your own";

impl Backing {
    /// The words for where a figure is from and how sure it is: a source is an authority only for a
    /// figure that was `seen` in it, or computed.
    pub fn said(&self, seen: bool) -> (&str, &str) {
        if seen && self.checked != Checked::Recalled {
            return (&self.source, &self.confidence);
        }
        match &*self.confidence {
            "published" => (TYPICAL, "typical-range"),
            other => (TYPICAL, other),
        }
    }
}

/// Whether the source of a row speaks of this column: sources of materials give weights as
/// delivered, while settling, voids and waste are judgement; sources of blocks give sizes.
pub fn is_sourced(table: &str, column: &str) -> bool {
    match table {
        "materials" => column == "delivered_lb_yd3",
        "blocks" => !matches!(column, "weight_lb" | "cells_pct"),
        _ => true,
    }
}

/// A material of the library. Densities in lb/yd3, shares in percent, as the table holds them.
#[derive(Clone, Debug)]
pub struct LibraryMaterial {
    /// Key, as `compost`.
    pub key: Arc<str>,
    /// Name.
    pub name: Arc<str>,
    /// Other names of the trade.
    pub also: Vec<Arc<str>>,
    /// Category.
    pub category: Category,
    /// Delivered density, lb/yd3.
    pub delivered: Option<Decimal>,
    /// Wet density, lb/yd3.
    pub wet: Option<Decimal>,
    /// Least and most of the delivered density, lb/yd3.
    pub delivered_range: Option<(Decimal, Decimal)>,
    /// Loss when wetted down, %.
    pub wet_down: Decimal,
    /// Least and most of it.
    pub wet_down_range: (Decimal, Decimal),
    /// Loss in the first season, %.
    pub first_season: Decimal,
    /// Least and most of it.
    pub first_season_range: (Decimal, Decimal),
    /// Air share, %.
    pub void: Decimal,
    /// Share of the air that soil fills, %.
    pub infill: Decimal,
    /// Waste, %.
    pub waste: Decimal,
    /// Roll width in inches, for sheets, liners and mesh.
    pub roll_width: Option<Decimal>,
    /// Lap in inches.
    pub lap: Option<Decimal>,
    /// Its backing.
    pub backing: Backing,
}

/// A lumber section of the library.
#[derive(Clone, Debug)]
pub struct LibrarySection {
    /// Key, as `2x10` or `47x150`.
    pub key: Arc<str>,
    /// The system of units that names it.
    pub system: System,
    /// The section.
    pub section: Section,
    /// The unit that its sizes are given in: `in` or `mm`.
    pub unit: Arc<str>,
    /// How it is sawn: `dressed, dry`.
    pub surface: Arc<str>,
    /// Its backing.
    pub backing: Backing,
}

/// A block of the library.
#[derive(Clone, Debug)]
pub struct LibraryBlock {
    /// Key, as `8x8x16` or `2x8x16 cap`.
    pub key: Arc<str>,
    /// The block.
    pub block: BlockSize,
    /// Least and most that one weighs, lb.
    pub weight_range: (Decimal, Decimal),
    /// The unit that its sizes are given in: `in` or `mm`.
    pub unit: Arc<str>,
    /// Its backing.
    pub backing: Backing,
}

/// A task of the library.
#[derive(Clone, Debug)]
pub struct LibraryTask {
    /// Key, as `spread`.
    pub key: Arc<str>,
    /// Name.
    pub name: Arc<str>,
    /// What it is counted by.
    pub driver: Driver,
    /// How much of the driver, in base units, the hours are for.
    pub per: Decimal,
    /// That amount in words, as `100 ft2`.
    pub per_words: Arc<str>,
    /// Person-hours: low, typical, high.
    pub hours: (Decimal, Decimal, Decimal),
    /// Whether the site's slope, ground and gate slow it down.
    pub haul: bool,
    /// Its backing.
    pub backing: Backing,
}

/// A single figure of the library, as `barrow_load_weight`.
#[derive(Clone, Debug)]
pub struct LibraryFigure {
    /// Key.
    pub key: Arc<str>,
    /// What it is, in words.
    pub name: Arc<str>,
    /// Low, typical, high, in `unit`.
    pub value: (Decimal, Decimal, Decimal),
    /// Unit in words.
    pub unit: Arc<str>,
    /// Its backing.
    pub backing: Backing,
}

/// A crop class with the least soil depths, in inches.
#[derive(Clone, Debug)]
pub struct LibraryCrop {
    /// Key.
    pub key: Arc<str>,
    /// Name of the class.
    pub name: Arc<str>,
    /// Crops that belong to it.
    pub examples: Vec<Arc<str>>,
    /// Least depth over open ground, in.
    pub open: Decimal,
    /// Least depth over a closed bottom, in.
    pub closed: Decimal,
    /// Its backing.
    pub backing: Backing,
}

/// A caution: when it applies is code, keyed by `key`; what it says is data.
#[derive(Clone, Debug)]
pub struct LibraryCaution {
    /// Key, as `wall_height`.
    pub key: Arc<str>,
    /// What triggers it, in words.
    pub trigger: Arc<str>,
    /// Words and phrases that set it off when they stand in a name; empty when it looks elsewhere.
    pub names: Vec<Arc<str>>,
    /// The number that triggers it, in `unit`, when there is one.
    pub threshold: Option<Decimal>,
    /// Unit of the threshold.
    pub unit: Arc<str>,
    /// What is said.
    pub words: Arc<str>,
    /// Date and jurisdiction of a legal figure, when it is one.
    pub jurisdiction: Arc<str>,
    /// Its backing.
    pub backing: Backing,
}

/// The library: tables in file order.
#[derive(Clone, Debug, Default)]
pub struct Library {
    /// Materials.
    pub materials: Vec<LibraryMaterial>,
    /// Sections.
    pub sections: Vec<LibrarySection>,
    /// Blocks.
    pub blocks: Vec<LibraryBlock>,
    /// Tasks.
    pub tasks: Vec<LibraryTask>,
    /// Single figures.
    pub figures: Vec<LibraryFigure>,
    /// Crops.
    pub crops: Vec<LibraryCrop>,
    /// Cautions.
    pub cautions: Vec<LibraryCaution>,
    /// Where a job gives its own figures instead.
    pub overrides: Vec<Override>,
}

impl Library {
    /// A material by key, name or other name, without regard to case, spaces, `_` and `-`.
    pub fn material(&self, name: &str) -> Option<&LibraryMaterial> {
        let wanted = folded(name);
        self.materials.iter().find(|m| {
            folded(&m.key) == wanted
                || folded(&m.name) == wanted
                || m.also.iter().any(|a| folded(a) == wanted)
        })
    }

    /// A section by its trade name in any spelling: `2x10`, `2 X 10`, `2×10`.
    pub fn section(&self, name: &str) -> Option<&LibrarySection> {
        let wanted = folded(name).replace('×', "x");
        self.sections.iter().find(|s| folded(&s.key) == wanted)
    }

    /// A task by key or name.
    pub fn task(&self, name: &str) -> Option<&LibraryTask> {
        let wanted = folded(name);
        self.tasks
            .iter()
            .find(|t| folded(&t.key) == wanted || folded(&t.name) == wanted)
    }

    /// A single figure by key. Keys are checked by a test, so a miss is a bug; it reads as `None`.
    pub fn figure(&self, key: &str) -> Option<&LibraryFigure> {
        self.figures.iter().find(|f| &*f.key == key)
    }

    /// The typical value of a figure; zero when the key is unknown (a test forbids that).
    pub fn typical(&self, key: &str) -> Decimal {
        self.figure(key).map_or(Decimal::ZERO, |f| f.value.1)
    }

    /// A crop by the name of its class or of a crop in it.
    pub fn crop(&self, name: &str) -> Option<&LibraryCrop> {
        let wanted = folded(name);
        self.crops
            .iter()
            .find(|c| folded(&c.name) == wanted || c.examples.iter().any(|e| folded(e) == wanted))
    }

    /// The crops that a cell names, one or several: `tomatoes and basil`.
    pub fn crops_in(&self, typed: &str) -> Vec<&LibraryCrop> {
        if let Some(crop) = self.crop(typed) {
            return vec![crop];
        }
        let named = names_of_crops(typed);
        named.iter().filter_map(|name| self.crop(name)).collect()
    }

    /// The first name in a cell of crops that is in no list.
    pub fn unknown_crop(&self, typed: &str) -> Option<String> {
        if self.crop(typed).is_some() {
            return None;
        }
        let named = names_of_crops(typed).into_iter();
        named.into_iter().find(|name| self.crop(name).is_none())
    }

    /// A caution by key.
    pub fn caution(&self, key: &str) -> Option<&LibraryCaution> {
        self.cautions.iter().find(|c| &*c.key == key)
    }
}

fn names_of_crops(typed: &str) -> Vec<String> {
    let spaced = typed.replace(" and ", ",");
    let names = spaced.split([',', ';', '/', '&', '+', '\n']).map(str::trim);
    names.filter(|n| !n.is_empty()).map(str::to_owned).collect()
}

/// A name without case, spaces, `_` and `-`, for comparing what people type.
pub fn folded(name: &str) -> String {
    name.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '_' | '-'))
        .flat_map(char::to_lowercase)
        .collect()
}
