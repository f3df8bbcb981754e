//! Which files an estimate becomes.

use std::path::Path;

use super::args::Output;
use super::run::Pipeline;
use crate::price::Estimate;
use crate::price::client::ClientView;
use crate::problem::Problem;
use crate::write::budget_text::{self, budget_text};
use crate::write::calendar::{self, calendar};
use crate::write::client_page::client_page;
use crate::write::drawings::drawings;
use crate::write::json::client_json;
use crate::write::letterhead::Letterhead;
use crate::write::orders::orders;
use crate::write::requests::requests;
use crate::write::review::{self, review};
use crate::write::stage::{Replacing, Staging, Written};

const JSON: &str = "estimate.json";
const WORKBOOK: &str = "estimate.xlsx";
/// What may be sent to the client: nothing is in them that a client may not see.
const CLIENT_JSON: &str = "client.json";
const CLIENT_PAGE: &str = "client-page.txt";
const CLIENT_PDF: &str = "client-summary.pdf";
const CREW_PDF: &str = "crew-sheets.pdf";
const BUDGET_PDF: &str = "grant-budget.pdf";
/// A workbook without every price cannot be taken for the estimate, even in a list of files.
const WORKBOOK_WITHOUT_PRICES: &str = "estimate-NOT-COMPLETE.xlsx";

/// Names that outputs may have, other than those that a supplier's or a bed's name is part of.
pub(super) const NAMES: [&str; 11] = [
    calendar::FILE,
    JSON,
    WORKBOOK,
    WORKBOOK_WITHOUT_PRICES,
    review::FILE,
    CLIENT_JSON,
    CLIENT_PAGE,
    budget_text::FILE,
    CLIENT_PDF,
    CREW_PDF,
    BUDGET_PDF,
];

/// Which outputs are wanted, and how documents look.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'a> {
    /// Only these; empty for all but drawings.
    pub(super) only: &'a [Output],
    /// What documents stand on.
    pub(super) letterhead: &'a Letterhead,
}

impl Wanted<'_> {
    fn has(&self, output: Output) -> bool {
        match self.only {
            [] => output != Output::Drawings,
            only => only.contains(&output),
        }
    }
}

/// Renders the outputs that are wanted and puts them into `folder`, as those of the file `job`. With some
/// only, others that are there stay.
///
/// # Errors
/// Everything that stood in the way; then no output was touched, or the first one that failed is named.
pub(super) fn write(
    pipeline: &Pipeline,
    estimate: &Estimate,
    json: &str,
    (job, folder): (Option<String>, &Path),
    (wanted, replacing): (Wanted<'_>, Replacing),
) -> Result<Written, Vec<Problem>> {
    let one = |problem: Box<Problem>| vec![*problem];
    let mut staging = Staging::open(folder, replacing).map_err(one)?.of_job(job);
    if !wanted.only.is_empty() {
        staging = staging.beside_others();
    }
    if wanted.has(Output::Workbook) {
        let workbook = (pipeline.workbook)(estimate).map_err(one)?;
        let name = if estimate.is_complete() {
            WORKBOOK
        } else {
            WORKBOOK_WITHOUT_PRICES
        };
        staging.add(name, &workbook).map_err(one)?;
    }
    for (name, bytes) in texts(estimate, json, wanted)? {
        staging.add(&name, &bytes).map_err(one)?;
    }
    let notices = documents(estimate, wanted, &mut staging)?;
    let mut written = staging.publish()?;
    written.notices.extend(notices);
    Ok(written)
}

/// Everything that is text.
fn texts(
    estimate: &Estimate,
    json: &str,
    wanted: Wanted<'_>,
) -> Result<Vec<(String, Vec<u8>)>, Vec<Problem>> {
    let mut texts = Vec::new();
    if wanted.has(Output::Json) {
        texts.push((JSON.to_owned(), json.as_bytes().to_vec()));
    }
    if wanted.has(Output::Client) {
        texts.extend(for_client(estimate)?);
    }
    if wanted.has(Output::Orders) {
        texts.extend(orders(estimate));
        let requests = requests(estimate).into_iter();
        texts.extend(requests.map(|request| (request.file, request.bytes)));
        let review = review(&estimate.job.to_review);
        texts.extend(review.map(|bytes| (review::FILE.to_owned(), bytes)));
    }
    if wanted.has(Output::Calendar) {
        let text = calendar(estimate);
        texts.extend(text.map(|text| (calendar::FILE.to_owned(), text.into_bytes())));
    }
    if wanted.has(Output::Budget) {
        let text = budget_text(estimate);
        texts.extend(text.map(|text| (budget_text::FILE.to_owned(), text.into_bytes())));
    }
    if wanted.has(Output::Drawings) {
        let drawings = drawings(estimate).into_iter();
        texts.extend(drawings.map(|(name, svg)| (name, svg.into_bytes())));
    }
    Ok(texts)
}

/// What goes to the client; nothing while a price is missing.
fn for_client(estimate: &Estimate) -> Result<Vec<(String, Vec<u8>)>, Vec<Problem>> {
    let Some(view) = ClientView::of(estimate) else {
        return Ok(Vec::new());
    };
    let failed = |e| {
        vec![Problem::bug(format!(
            "the client's JSON cannot be made: {e}"
        ))]
    };
    let json = client_json(&view).map_err(failed)?;
    Ok(vec![
        (CLIENT_JSON.to_owned(), json.into_bytes()),
        (CLIENT_PAGE.to_owned(), client_page(&view).into_bytes()),
    ])
}

/// Sets the documents; what there is to say of them.
#[cfg(feature = "pdf")]
fn documents(
    estimate: &Estimate,
    wanted: Wanted<'_>,
    staging: &mut Staging,
) -> Result<Vec<Problem>, Vec<Problem>> {
    use crate::write::document::Desk;
    let one = |problem: Box<Problem>| vec![*problem];
    let paper = estimate.job.settings.paper.value;
    let mut desk = Desk::new(wanted.letterhead, paper);
    if let Some(view) = ClientView::of(estimate).filter(|_| wanted.has(Output::Client)) {
        desk.client(&view).map_err(one)?;
    }
    if wanted.has(Output::Crew) {
        desk.crew(estimate).map_err(one)?;
    }
    if wanted.has(Output::Orders) {
        desk.orders(estimate).map_err(one)?;
    }
    if wanted.has(Output::Budget) {
        desk.budget(estimate).map_err(one)?;
    }
    let (made, problems) = desk.close();
    for document in made {
        staging.add(&document.name, &document.bytes).map_err(one)?;
    }
    Ok(problems)
}

/// Without the typesetter there are no documents.
#[cfg(not(feature = "pdf"))]
#[allow(clippy::unnecessary_wraps, reason = "with the typesetter it can fail")]
fn documents(
    _: &Estimate,
    wanted: Wanted<'_>,
    _: &mut Staging,
) -> Result<Vec<Problem>, Vec<Problem>> {
    if *wanted.letterhead == Letterhead::default() && !wanted.only.contains(&Output::Crew) {
        return Ok(Vec::new());
    }
    Ok(vec![Problem::notice(
        "this build makes no PDFs; build it with its default features for them",
    )])
}
