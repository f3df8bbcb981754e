//! Documents as PDF: for the client, the crew, suppliers and funders.
//!
//! Each has a file that turns results into values, and a template in `templates/documents` that sets them.

mod budget;
mod client;
mod crew;
mod letters;
mod order;
mod pack;
mod page;
mod typeset;

pub use page::Made;

use crate::model::settings::Paper;
use crate::price::Estimate;
use crate::price::client::ClientView;
use crate::problem::Problem;
use crate::write::letterhead::Letterhead;
use letters::Missing;
use page::Draft;

pub use budget::FILE as BUDGET;
pub use client::FILE as CLIENT;
pub use crew::FILE as CREW;

/// Letters that are named one by one when no font has them.
const MOST_LETTERS: usize = 12;

/// Documents that are being made.
#[derive(Debug)]
pub struct Desk<'a> {
    letterhead: &'a Letterhead,
    paper: Paper,
    made: Vec<Made>,
    problems: Vec<Problem>,
    missing: Missing,
}

impl<'a> Desk<'a> {
    /// Nothing made yet.
    pub fn new(letterhead: &'a Letterhead, paper: Paper) -> Self {
        Self {
            letterhead,
            paper,
            made: Vec::new(),
            problems: Vec::new(),
            missing: Missing::default(),
        }
    }

    /// The summary for the client.
    ///
    /// # Errors
    /// A mistake of ours in a built-in template.
    pub fn client(&mut self, view: &ClientView) -> Result<(), Box<Problem>> {
        let rows = view.kinds.len().saturating_add(view.lines.len());
        if rows > client::MOST_ROWS {
            self.problems.push(Problem::notice(format!(
                "{CLIENT} is not made: {rows} rows are more than the {} that a client reads; client-page.txt holds them all",
                client::MOST_ROWS
            )));
            return Ok(());
        }
        let mut draft = self.draft(client::TEMPLATE, client::title(view));
        let page = client::page(view, &mut draft);
        self.finish(draft, CLIENT.to_owned(), &page)
    }

    /// The sheets for the crew.
    ///
    /// # Errors
    /// A mistake of ours in a built-in template.
    pub fn crew(&mut self, estimate: &Estimate) -> Result<(), Box<Problem>> {
        let kinds = estimate.kinds.kinds.len();
        if kinds > crew::MOST_KINDS {
            self.problems.push(Problem::notice(format!(
                "{CREW} is not made: {kinds} kinds of bed are more than the {} that have a page; the workbook holds them all",
                crew::MOST_KINDS
            )));
            return Ok(());
        }
        let mut draft = self.draft(crew::TEMPLATE, crew::title(estimate));
        let page = crew::page(estimate, &mut draft);
        self.finish(draft, CREW.to_owned(), &page)
    }

    /// An order for each supplier.
    ///
    /// # Errors
    /// A mistake of ours in a built-in template.
    pub fn orders(&mut self, estimate: &Estimate) -> Result<(), Box<Problem>> {
        for order in order::orders(estimate) {
            let draft = self.draft(order::TEMPLATE, order.title);
            let page = order::page(estimate, order.supplier);
            self.finish(draft, order.file, &page)?;
        }
        Ok(())
    }

    /// The budget of a job that grants pay for; nothing for others.
    ///
    /// # Errors
    /// A mistake of ours in a built-in template.
    pub fn budget(&mut self, estimate: &Estimate) -> Result<(), Box<Problem>> {
        let Some(budget) = &estimate.price.budget else {
            return Ok(());
        };
        let draft = self.draft(budget::TEMPLATE, budget::title(estimate));
        let page = budget::page(estimate, budget);
        self.finish(draft, BUDGET.to_owned(), &page)
    }

    fn draft(&self, template: &'static str, title: String) -> Draft<'a> {
        Draft::new(template, title, self.paper, self.letterhead)
    }

    fn finish(
        &mut self,
        draft: Draft<'_>,
        name: String,
        page: &impl serde::Serialize,
    ) -> Result<(), Box<Problem>> {
        let (made, missing) = draft.finish(name, page, &mut self.problems)?;
        self.made.push(made);
        self.missing.extend(missing);
        Ok(())
    }

    /// Everything made, and what there is to say.
    pub fn close(mut self) -> (Vec<Made>, Vec<Problem>) {
        let letters: Vec<char> = self.missing.letters().collect();
        if !letters.is_empty() {
            let shown = letters.iter().take(MOST_LETTERS);
            let shown: Vec<String> = shown
                .map(|c| format!("{c} as [U+{:04X}]", u32::from(*c)))
                .collect();
            let more = letters.len().saturating_sub(MOST_LETTERS);
            let more = match more {
                0 => String::new(),
                n => format!(" and {n} more"),
            };
            self.problems.push(Problem::notice(format!(
                "the PDFs have no letters for some of the text and show {}{more}; the workbook has the text whole",
                shown.join(", ")
            )));
        }
        let mut told: Vec<Problem> = Vec::new();
        for problem in self.problems {
            if !told.contains(&problem) {
                told.push(problem);
            }
        }
        (self.made, told)
    }
}
