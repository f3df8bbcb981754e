//! The arithmetic of the money tail, as data: one term is evaluated by the engine and printed as a
//! formula by the workbook writer, so that the two cannot drift apart.

use rust_decimal::Decimal;

/// A column of the ledger: its block, and its place in the block.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ColRef {
    /// Index into [`crate::price::ledger::Ledger::blocks`].
    pub block: u16,
    /// Index into the block's columns.
    pub column: u16,
}

/// A link from the rows of one block to rows of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LinkRef {
    /// The block whose rows link.
    pub block: u16,
    /// Index into the block's links.
    pub link: u16,
}

/// One cell of the ledger.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CellRef {
    /// The column.
    pub col: ColRef,
    /// Row in the block, from 0.
    pub row: u32,
}

/// A calculation. Numbers only: formulas never return text that a user typed.
#[derive(Clone, Debug, PartialEq)]
pub enum Term {
    /// A constant.
    Number(Decimal),
    /// The cell of this column in the same row.
    Here(ColRef),
    /// The cell of this column in the row before, in the block's sharing order; nothing before the first.
    Before(ColRef),
    /// The cell of a column in the linked row; nothing where there is no link.
    Via(LinkRef, ColRef),
    /// One cell.
    Cell(CellRef),
    /// The sum of a whole column. Always stands inside [`Term::Money`] or [`Term::Round`], since
    /// spreadsheets add in binary.
    Sum(ColRef),
    /// The sum of `col` over the rows whose `key` equals the term's value.
    SumIf {
        /// Column of whole numbers.
        key: ColRef,
        /// What the key must equal.
        is: Box<Term>,
        /// What is summed.
        col: ColRef,
    },
    /// Sum of products of this row's cells in `from..=to` with the only row of the head block's columns.
    Dot {
        /// First column of this block.
        from: ColRef,
        /// Last column of this block.
        to: ColRef,
        /// First column of the head block; as many follow.
        head: ColRef,
    },
    /// Sum.
    Add(Box<Term>, Box<Term>),
    /// Difference.
    Sub(Box<Term>, Box<Term>),
    /// Product.
    Mul(Box<Term>, Box<Term>),
    /// Quotient; the author sees to it that the divisor is not zero ([`Term::ratio`]).
    Div(Box<Term>, Box<Term>),
    /// Rounded to the currency's minor unit, half away from zero.
    Money(Box<Term>),
    /// Rounded to so many decimals, half away from zero.
    Round(Box<Term>, u32),
    /// Rounded up to a whole number; nine decimals count.
    WholeUp(Box<Term>),
    /// Rounded up to a multiple of the second term; the first term itself when the second is not positive.
    StepUp(Box<Term>, Box<Term>),
    /// The greater.
    Max(Box<Term>, Box<Term>),
    /// The lesser.
    Min(Box<Term>, Box<Term>),
    /// One of two, by a comparison.
    If(Box<Cond>, Box<Term>, Box<Term>),
}

/// A comparison of two terms.
#[derive(Clone, Debug, PartialEq)]
pub enum Cond {
    /// First greater than second.
    Greater(Term, Term),
    /// Equal.
    Equal(Term, Term),
    /// Both hold.
    And(Box<Cond>, Box<Cond>),
}

impl Term {
    /// A whole-number constant.
    pub fn whole(number: i64) -> Self {
        Self::Number(Decimal::from(number))
    }

    /// A single cell.
    pub fn cell(col: ColRef, row: usize) -> Self {
        Self::Cell(CellRef {
            col,
            row: u32::try_from(row).unwrap_or(u32::MAX),
        })
    }

    /// `self + other`, which is `other` alone where `self` is the constant 0.
    #[must_use]
    pub fn plus(self, other: Self) -> Self {
        if self == Self::whole(0) {
            other
        } else {
            self + other
        }
    }

    /// `self / other`, or 0 when `other` is 0.
    #[must_use]
    pub fn ratio(self, other: Self) -> Self {
        let is_zero = Cond::Equal(other.clone(), Self::whole(0));
        Self::If(
            Box::new(is_zero),
            Box::new(Self::whole(0)),
            Box::new(Self::Div(Box::new(self), Box::new(other))),
        )
    }

    /// Rounded to the minor unit.
    #[must_use]
    pub fn money(self) -> Self {
        Self::Money(Box::new(self))
    }

    /// The rounded sum of a column.
    pub fn total(col: ColRef) -> Self {
        Self::Sum(col).money()
    }

    /// The rounded sum of `col` where `key` is `number`.
    pub fn total_if(key: ColRef, number: i64, col: ColRef) -> Self {
        Self::SumIf {
            key,
            is: Box::new(Self::whole(number)),
            col,
        }
        .money()
    }

    /// The greater of the two.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self::Max(Box::new(self), Box::new(other))
    }

    /// The sum of several terms; 0 for none.
    pub fn add_all(terms: impl IntoIterator<Item = Self>) -> Self {
        terms
            .into_iter()
            .reduce(|sum, term| sum + term)
            .unwrap_or_else(|| Self::whole(0))
    }
}

impl std::ops::Add for Term {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::Add(Box::new(self), Box::new(other))
    }
}

impl std::ops::Sub for Term {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::Sub(Box::new(self), Box::new(other))
    }
}

impl std::ops::Mul for Term {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self::Mul(Box::new(self), Box::new(other))
    }
}
