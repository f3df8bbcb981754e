//! The terms that a few cells rest on, laid out once as a list of steps over binary numbers.
//!
//! Only steps that a drawn cell moves are done again for each draw; the rest is computed while the list is made.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::price::ledger::{Ledger, Role};
use crate::price::term::{CellRef, ColRef, Cond, LinkRef, Term};

/// Binary numbers differ in the last of their digits where decimals are alike.
const SAME: f64 = 1e-12;

/// A cell: its column and row.
type Cell = (ColRef, usize);

/// One number, and the slots of the numbers that it is made of.
#[derive(Clone, Debug)]
enum Step {
    Number(f64),
    /// The drawn cell of this place.
    Drawn(usize),
    Sum(Vec<usize>),
    Sub(usize, usize),
    Mul(usize, usize),
    Div(usize, usize),
    /// Half away from zero, to a part of one over this scale.
    Round(usize, f64),
    WholeUp(usize),
    /// Up to a multiple of the second.
    UpTo(usize, usize),
    Max(usize, usize),
    Min(usize, usize),
    /// 1 or 0.
    Greater(usize, usize),
    /// 1 or 0.
    Equal(usize, usize),
    /// The second where the first is not 0, else the third.
    Pick(usize, usize, usize),
}

/// Steps that give the targets.
#[derive(Debug)]
pub(super) struct Program {
    /// Every slot; those that no draw moves are filled.
    start: Vec<f64>,
    /// The others with their slots, in the order of computing.
    steps: Vec<(usize, Step)>,
    targets: Vec<usize>,
}

impl Program {
    /// Lays out the `targets`; `drawn` are the cells whose numbers change.
    ///
    /// `None` when a term points outside the ledger, which is a bug.
    pub(super) fn new(ledger: &Ledger, drawn: &[Cell], targets: &[Cell]) -> Option<Self> {
        let mut maker = Maker {
            ledger,
            drawn: drawn.iter().copied().zip(0..).collect(),
            slots: BTreeMap::new(),
            numbers: Vec::new(),
            moved: Vec::new(),
            steps: Vec::new(),
        };
        let targets = targets.iter().map(|cell| maker.cell(*cell));
        let targets = targets.collect::<Option<Vec<usize>>>()?;
        Some(Self {
            start: maker.numbers,
            steps: maker.steps,
            targets,
        })
    }

    /// Numbers to work on, for [`Program::run`].
    pub(super) fn slots(&self) -> Vec<f64> {
        self.start.clone()
    }

    /// Whether a target rests on this drawn cell.
    pub(super) fn uses(&self, drawn: usize) -> bool {
        let mut steps = self.steps.iter();
        steps.any(|(_, step)| matches!(step, Step::Drawn(place) if *place == drawn))
    }

    /// The targets for these numbers of the drawn cells.
    pub(super) fn run(&self, drawn: &[f64], slots: &mut [f64]) -> Vec<f64> {
        for (slot, step) in &self.steps {
            let number = step.number(slots, drawn);
            if let Some(place) = slots.get_mut(*slot) {
                *place = number;
            }
        }
        self.targets.iter().map(|slot| at(slots, *slot)).collect()
    }
}

fn at(numbers: &[f64], place: usize) -> f64 {
    numbers.get(place).copied().unwrap_or(f64::NAN)
}

/// Half away from zero; what is a hair below the half is the half.
fn rounded(number: f64, scale: f64) -> f64 {
    let scaled = number * scale;
    (scaled + scaled * SAME).round() / scale
}

fn whole_up(number: f64) -> f64 {
    rounded(number, 1e9).ceil()
}

fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() <= SAME * a.abs().max(b.abs())
}

impl Step {
    fn number(&self, slots: &[f64], drawn: &[f64]) -> f64 {
        let of = |slot: &usize| at(slots, *slot);
        let truth = |holds: bool| f64::from(u8::from(holds));
        match self {
            Self::Number(number) => *number,
            Self::Drawn(place) => at(drawn, *place),
            Self::Sum(all) => all.iter().map(of).sum(),
            Self::Sub(a, b) => of(a) - of(b),
            Self::Mul(a, b) => of(a) * of(b),
            Self::Div(a, b) => of(a) / of(b),
            Self::Round(a, scale) => rounded(of(a), *scale),
            Self::WholeUp(a) => whole_up(of(a)),
            Self::UpTo(a, step) if of(step) <= 0.0 => of(a),
            Self::UpTo(a, step) => whole_up(of(a) / of(step)) * of(step),
            Self::Max(a, b) => of(a).max(of(b)),
            Self::Min(a, b) => of(a).min(of(b)),
            Self::Greater(a, b) => truth(of(a) > of(b) && !alike(of(a), of(b))),
            Self::Equal(a, b) => truth(alike(of(a), of(b))),
            Self::Pick(when, a, b) => of(if of(when) == 0.0 { b } else { a }),
        }
    }

    fn operands(&self) -> Vec<usize> {
        match self {
            Self::Number(_) | Self::Drawn(_) => Vec::new(),
            Self::Sum(all) => all.clone(),
            Self::Round(a, _) | Self::WholeUp(a) => vec![*a],
            Self::Sub(a, b)
            | Self::Mul(a, b)
            | Self::Div(a, b)
            | Self::UpTo(a, b)
            | Self::Max(a, b)
            | Self::Min(a, b)
            | Self::Greater(a, b)
            | Self::Equal(a, b) => vec![*a, *b],
            Self::Pick(when, a, b) => vec![*when, *a, *b],
        }
    }
}

/// A program on its way.
struct Maker<'a> {
    ledger: &'a Ledger,
    drawn: BTreeMap<Cell, usize>,
    slots: BTreeMap<Cell, usize>,
    numbers: Vec<f64>,
    /// Whether a draw moves the slot.
    moved: Vec<bool>,
    steps: Vec<(usize, Step)>,
}

impl Maker<'_> {
    fn is_moved(&self, slot: usize) -> bool {
        self.moved.get(slot).copied().unwrap_or(true)
    }

    fn push(&mut self, step: Step) -> usize {
        let slot = self.numbers.len();
        let is_drawn = matches!(step, Step::Drawn(_));
        let moved = is_drawn || step.operands().iter().any(|slot| self.is_moved(*slot));
        self.moved.push(moved);
        if moved {
            self.numbers.push(0.0);
            self.steps.push((slot, step));
        } else {
            self.numbers.push(step.number(&self.numbers, &[]));
        }
        slot
    }

    fn sum(&mut self, slots: Vec<usize>) -> usize {
        let (mut moved, fixed): (Vec<usize>, Vec<usize>) =
            slots.into_iter().partition(|slot| self.is_moved(*slot));
        let fixed = self.push(Step::Sum(fixed));
        if moved.is_empty() {
            return fixed;
        }
        moved.push(fixed);
        self.push(Step::Sum(moved))
    }

    fn cell(&mut self, cell: Cell) -> Option<usize> {
        if let Some(slot) = self.slots.get(&cell) {
            return Some(*slot);
        }
        let (column, row) = cell;
        let ledger = self.ledger;
        let read = ledger.get(column)?;
        let slot = match (self.drawn.get(&cell), &read.role) {
            (Some(place), _) => self.push(Step::Drawn(*place)),
            (None, Role::Live(term) | Role::Running(term)) => self.term(term, cell)?,
            (None, Role::LiveRows(terms)) => match terms.get(row)? {
                Some(term) => self.term(term, cell)?,
                None => self.push(Step::Number(0.0)),
            },
            (None, Role::Flag { when, .. }) => self.cond(when, cell)?,
            (None, Role::Label | Role::Given | Role::Fixed) => {
                let number = read.values.get(row)?.as_number();
                self.number(number)?
            }
        };
        self.slots.insert(cell, slot);
        Some(slot)
    }

    fn number(&mut self, number: Decimal) -> Option<usize> {
        let number = number.to_f64()?;
        Some(self.push(Step::Number(number)))
    }

    fn two(
        &mut self,
        (a, b): (&Term, &Term),
        here: Cell,
        make: fn(usize, usize) -> Step,
    ) -> Option<usize> {
        let (a, b) = (self.term(a, here)?, self.term(b, here)?);
        Some(self.push(make(a, b)))
    }

    fn term(&mut self, term: &Term, here: Cell) -> Option<usize> {
        Some(match term {
            Term::Number(number) => self.number(*number)?,
            Term::Here(column) => self.cell((*column, here.1))?,
            Term::Before(column) => self.elsewhere(*column, self.before(here))?,
            Term::Via(link, column) => self.elsewhere(*column, self.linked(*link, here))?,
            Term::Cell(CellRef { col, row }) => self.cell((*col, usize::try_from(*row).ok()?))?,
            Term::Sum(column) => {
                let rows = 0..self.ledger.rows(column.block);
                let slots = rows.map(|row| self.cell((*column, row)));
                let slots = slots.collect::<Option<Vec<usize>>>()?;
                self.sum(slots)
            }
            Term::SumIf { key, is, col } => self.sum_if(*key, is, *col, here)?,
            Term::Dot { from, to, head } => self.dot(*from, *to, *head, here)?,
            Term::Add(a, b) => {
                let slots = vec![self.term(a, here)?, self.term(b, here)?];
                self.sum(slots)
            }
            Term::Sub(a, b) => self.two((a, b), here, Step::Sub)?,
            Term::Mul(a, b) => self.two((a, b), here, Step::Mul)?,
            Term::Div(a, b) => self.two((a, b), here, Step::Div)?,
            Term::Money(x) => self.round(x, self.ledger.currency.minor, here)?,
            Term::Round(x, places) => self.round(x, *places, here)?,
            Term::WholeUp(x) => {
                let x = self.term(x, here)?;
                self.push(Step::WholeUp(x))
            }
            Term::StepUp(x, step) => self.two((x, step), here, Step::UpTo)?,
            Term::Max(a, b) => self.two((a, b), here, Step::Max)?,
            Term::Min(a, b) => self.two((a, b), here, Step::Min)?,
            Term::If(when, a, b) => {
                let when = self.cond(when, here)?;
                let (a, b) = (self.term(a, here)?, self.term(b, here)?);
                self.pick(when, a, b)
            }
        })
    }

    fn round(&mut self, x: &Term, places: u32, here: Cell) -> Option<usize> {
        let slot = self.term(x, here)?;
        let scale = 10_f64.powi(i32::try_from(places).ok()?);
        Some(self.push(Step::Round(slot, scale)))
    }

    fn cond(&mut self, when: &Cond, here: Cell) -> Option<usize> {
        match when {
            Cond::Greater(a, b) => self.two((a, b), here, Step::Greater),
            Cond::Equal(a, b) => self.two((a, b), here, Step::Equal),
            Cond::And(a, b) => {
                let (a, b) = (self.cond(a, here)?, self.cond(b, here)?);
                Some(self.push(Step::Mul(a, b)))
            }
        }
    }

    /// One of two numbers. A choice that no draw moves takes no step, so that the side which is not
    /// taken cannot make the result seem to move.
    fn pick(&mut self, when: usize, a: usize, b: usize) -> usize {
        if self.is_moved(when) {
            return self.push(Step::Pick(when, a, b));
        }
        if at(&self.numbers, when) == 0.0 { b } else { a }
    }

    /// A cell of another row, or nothing.
    fn elsewhere(&mut self, column: ColRef, row: Option<usize>) -> Option<usize> {
        match row {
            Some(row) => self.cell((column, row)),
            None => Some(self.push(Step::Number(0.0))),
        }
    }

    fn before(&self, (column, row): Cell) -> Option<usize> {
        let block = self.ledger.blocks.get(usize::from(column.block))?;
        if block.before.is_empty() {
            return row.checked_sub(1);
        }
        usize::try_from((*block.before.get(row)?)?).ok()
    }

    fn linked(&self, link: LinkRef, (column, row): Cell) -> Option<usize> {
        let block = self.ledger.blocks.get(usize::from(column.block))?;
        let rows = &block.links.get(usize::from(link.link))?.rows;
        usize::try_from((*rows.get(row)?)?).ok()
    }

    fn sum_if(&mut self, key: ColRef, is: &Term, col: ColRef, here: Cell) -> Option<usize> {
        let is = self.term(is, here)?;
        let mut slots = Vec::new();
        for row in 0..self.ledger.rows(key.block) {
            let key = self.cell((key, row))?;
            let same = self.push(Step::Equal(key, is));
            if !self.is_moved(same) && at(&self.numbers, same) == 0.0 {
                continue;
            }
            let number = self.cell((col, row))?;
            let nothing = self.push(Step::Number(0.0));
            slots.push(self.pick(same, number, nothing));
        }
        Some(self.sum(slots))
    }

    fn dot(&mut self, from: ColRef, to: ColRef, head: ColRef, here: Cell) -> Option<usize> {
        let mut slots = Vec::new();
        for column in from.column..=to.column {
            let measure = self.cell((ColRef { column, ..from }, here.1))?;
            let place = head.column.checked_add(column.checked_sub(from.column)?)?;
            let rate = self.cell((
                ColRef {
                    column: place,
                    ..head
                },
                0,
            ))?;
            slots.push(self.push(Step::Mul(measure, rate)));
        }
        Some(self.sum(slots))
    }
}
