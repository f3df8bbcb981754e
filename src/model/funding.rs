//! Who pays for a job that is paid by grants, and the classes under which a budget shows it.
//!
//! Classes of two forms are known: the object classes of the federal budget form for programs without
//! construction (SF-424A, section B, lines a to h) and the cost classifications of the form for
//! construction programs (SF-424C, lines 1 to 13). The base of indirect costs is modified total direct
//! cost as 2 CFR 200.1 defines it.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::known::Known;
use super::library::folded;
use super::source::RowAt;

/// Which form the budget is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Form {
    /// Object classes.
    #[default]
    ObjectClasses,
    /// Cost classifications of a construction program.
    Construction,
}

impl Form {
    /// Its word on the `Job` sheet and in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::ObjectClasses => "object classes",
            Self::Construction => "construction",
        }
    }
}

/// How much of a line counts towards the base of indirect costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum InBase {
    /// All of it.
    Whole,
    /// The first part of each subaward.
    First,
    /// Nothing: equipment, capital spending, rent, participants.
    Nothing,
}

/// A class of the budget.
#[derive(Debug, PartialEq, Eq)]
pub struct Class {
    /// Its form.
    pub form: Form,
    /// Its letter or number on the form.
    pub mark: &'static str,
    /// Its title on the form.
    pub title: &'static str,
    /// How users write it; several classes of ours may stand under one title of the form.
    pub key: &'static str,
    /// What of it is in the base of indirect costs.
    pub base: InBase,
}

/// A class by its place in [`CLASSES`].
pub type ClassRef = &'static Class;

const fn object(mark: &'static str, title: &'static str, key: &'static str, base: InBase) -> Class {
    Class {
        form: Form::ObjectClasses,
        mark,
        title,
        key,
        base,
    }
}

const fn building(mark: &'static str, title: &'static str, key: &'static str) -> Class {
    Class {
        form: Form::Construction,
        mark,
        title,
        key,
        base: InBase::Nothing,
    }
}

/// Every class, in the order of the forms.
///
/// Source: SF-424A section B line 6 and SF-424C lines 1 to 13; bases by 2 CFR 200.1 (modified total
/// direct cost), which leaves out equipment, capital expenditures, rental costs, participant support
/// and each subaward beyond its first part.
pub static CLASSES: [Class; 23] = [
    object("a", "Personnel", "personnel", InBase::Whole),
    object("b", "Fringe benefits", "fringe benefits", InBase::Whole),
    object("c", "Travel", "travel", InBase::Whole),
    object("d", "Equipment", "equipment", InBase::Nothing),
    object("e", "Supplies", "supplies", InBase::Whole),
    object("f", "Contractual", "contractual", InBase::Whole),
    object("f", "Contractual", "subaward", InBase::First),
    object("g", "Construction", "construction", InBase::Nothing),
    object("h", "Other", "other", InBase::Whole),
    object("h", "Other", "rental", InBase::Nothing),
    object("h", "Other", "participant support", InBase::Nothing),
    building("1", "Administrative and legal expenses", "administrative"),
    building("2", "Land, structures, rights-of-way, appraisals", "land"),
    building("3", "Relocation expenses and payments", "relocation"),
    building(
        "4",
        "Architectural and engineering fees",
        "architectural and engineering",
    ),
    building(
        "5",
        "Other architectural and engineering fees",
        "other architectural and engineering",
    ),
    building("6", "Project inspection fees", "project inspection"),
    building("7", "Site work", "site work"),
    building("8", "Demolition and removal", "demolition"),
    building("9", "Construction", "building"),
    building("10", "Equipment", "fixed equipment"),
    building("11", "Miscellaneous", "miscellaneous"),
    building("13", "Contingencies", "contingencies"),
];

/// A class by how users write it, of one form.
pub fn class(form: Form, key: &str) -> Option<ClassRef> {
    CLASSES.iter().find(|c| c.form == form && c.key == key)
}

/// Where the lines of a budget come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineKind {
    /// Wages of paid people.
    Wages,
    /// Taxes, insurance and benefits on wages.
    Fringe,
    /// Hours at a charge rate.
    Charged,
    /// What is bought.
    Goods,
    /// Tax paid on purchases that nobody gives back.
    Tax,
    /// Trips and site fees.
    Delivery,
    /// Machines.
    Hire,
    /// Extras at cost.
    Extra,
    /// Sums set aside.
    Allowance,
    /// Contingency, when a funder pays for it.
    Contingency,
    /// Hours given, at a stated value.
    Volunteers,
    /// Goods given, at a stated value.
    Donated,
}

impl LineKind {
    /// All of them, in the order of the budget's lines.
    pub const ALL: [Self; 12] = [
        Self::Wages,
        Self::Fringe,
        Self::Charged,
        Self::Goods,
        Self::Tax,
        Self::Delivery,
        Self::Hire,
        Self::Extra,
        Self::Allowance,
        Self::Contingency,
        Self::Volunteers,
        Self::Donated,
    ];

    /// How users write it on `Budget classes` and in `Pays for`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Wages => "wages",
            Self::Fringe => "fringe",
            Self::Charged => "charged labour",
            Self::Goods => "materials",
            Self::Tax => "tax",
            Self::Delivery => "delivery",
            Self::Hire => "hire",
            Self::Extra => "extras",
            Self::Allowance => "allowances",
            Self::Contingency => "contingency",
            Self::Volunteers => "volunteers",
            Self::Donated => "donated goods",
        }
    }

    /// Whether it costs no money.
    pub const fn is_in_kind(self) -> bool {
        matches!(self, Self::Volunteers | Self::Donated)
    }

    /// The key of the class under which it stands when the job says nothing.
    ///
    /// Hire is rental cost, which 2 CFR 200.1 leaves out of modified total direct cost; hours at a
    /// charge rate are a contractor's.
    pub const fn usual_class(self, form: Form) -> &'static str {
        match (form, self) {
            (Form::ObjectClasses, Self::Wages) => "personnel",
            (Form::ObjectClasses, Self::Fringe) => "fringe benefits",
            (Form::ObjectClasses, Self::Charged | Self::Delivery) => "contractual",
            (Form::ObjectClasses, Self::Goods | Self::Tax | Self::Donated) => "supplies",
            (Form::ObjectClasses, Self::Hire) => "rental",
            (Form::ObjectClasses, _) => "other",
            (Form::Construction, Self::Extra | Self::Allowance) => "miscellaneous",
            (Form::Construction, Self::Contingency) => "contingencies",
            (Form::Construction, _) => "building",
        }
    }
}

/// What a cell of `Pays for` or `Budget classes` names.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// A class of the budget.
    Class(ClassRef),
    /// Lines of one kind.
    Kind(LineKind),
    /// One material, worker, machine or extra, by its name.
    Named(Arc<str>),
}

/// As what a funder's money counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CountsAs {
    /// The award that is asked for.
    Award,
    /// Match in cash.
    CashMatch,
    /// Match in kind.
    InKind,
}

impl CountsAs {
    /// Its word in files and on sheets.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Award => "award",
            Self::CashMatch => "cash match",
            Self::InKind => "in-kind match",
        }
    }
}

/// What a match is a share of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MatchBase {
    /// Award and match together: match = award x m / (1 - m).
    Total,
    /// The award alone: match = award x m.
    Award,
}

impl MatchBase {
    /// Its word in files and on sheets.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Total => "total project",
            Self::Award => "award",
        }
    }
}

/// The figures of 2 CFR 200 that a day of award chooses.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleSet {
    /// Its first day, in words: `awards from 2024-10-01`.
    pub words: &'static str,
    /// The de minimis rate of indirect cost, as a fraction.
    pub de_minimis: Decimal,
    /// How much of each subaward is in the base.
    pub first_of_subaward: Decimal,
    /// Price of one item from which it is equipment.
    pub equipment_from: Decimal,
}

/// One row of `Funding`.
#[derive(Clone, Debug)]
pub struct Funder {
    /// The row.
    pub at: RowAt,
    /// Who.
    pub name: Arc<str>,
    /// As what the money counts.
    pub counts_as: Known<CountsAs>,
    /// The most that it pays; nothing for as much as there is to pay.
    pub amount: Option<Known<Decimal>>,
    /// Day of the award.
    pub award_date: Option<Known<Date>>,
    /// The rules of that day.
    pub rules: RuleSet,
    /// What it pays for; everything when empty.
    pub pays_for: Vec<Target>,
    /// Match that it asks for, as a fraction.
    pub match_share: Option<Known<Decimal>>,
    /// What that is a share of.
    pub match_base: Known<MatchBase>,
    /// Rate of indirect cost, as a fraction.
    pub indirect: Known<Decimal>,
    /// Whether what it pays contractors is passed on as subawards.
    pub subaward: bool,
}

/// One row of `Budget classes`.
#[derive(Clone, Debug)]
pub struct ClassRow {
    /// The row.
    pub at: RowAt,
    /// Which lines.
    pub line: Target,
    /// Their class.
    pub class: ClassRef,
}

/// What the `Job` sheet says of the budget; nothing for what it does not say.
#[derive(Clone, Debug, Default)]
pub struct Budgeting {
    /// The form.
    pub form: Option<Known<Form>>,
    /// Share of the tax on purchases that is given back, as a fraction.
    pub tax_recovered: Option<Known<Decimal>>,
}

impl Budgeting {
    /// The form in force: object classes unless the job says otherwise.
    pub fn form(&self) -> Form {
        self.form.as_ref().map_or(Form::ObjectClasses, |f| f.value)
    }

    /// The share of tax that is given back: none unless the job says otherwise.
    pub fn recovered(&self) -> Decimal {
        self.tax_recovered
            .as_ref()
            .map_or(Decimal::ZERO, |s| s.value)
    }
}

/// Who pays, and how the budget shows it. Empty for a job without `Funding`.
#[derive(Clone, Debug)]
pub struct Funding {
    /// Funders, in the order in which they pay.
    pub funders: Vec<Funder>,
    /// Whether each line is rounded to whole units of the currency.
    pub whole_units: Known<bool>,
    /// Classes that the job gives lines.
    pub classes: Vec<ClassRow>,
}

impl Default for Funding {
    fn default() -> Self {
        Self {
            funders: Vec::new(),
            whole_units: Known::assumed(true, "not set, taken as yes"),
            classes: Vec::new(),
        }
    }
}

impl Funding {
    /// Whether the job has a budget at all.
    pub fn is_empty(&self) -> bool {
        self.funders.is_empty()
    }

    /// The class of a line: by its name, else by what kind of line it is.
    pub fn class_of(&self, form: Form, kind: LineKind, name: &str) -> ClassRef {
        let is_named = |row: &&ClassRow| matches!(&row.line, Target::Named(line) if folded(line) == folded(name));
        let is_kind = |row: &&ClassRow| row.line == Target::Kind(kind);
        let own = self.classes.iter().find(is_named);
        let own = own.or_else(|| self.classes.iter().find(is_kind));
        let class_of_form = || class(form, kind.usual_class(form));
        own.map(|row| row.class)
            .or_else(class_of_form)
            .unwrap_or(&CLASSES[0])
    }
}
