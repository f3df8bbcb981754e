//! Which files an estimate becomes.

use std::path::Path;

use super::run::Pipeline;
use crate::price::Estimate;
use crate::price::client::ClientView;
use crate::problem::Problem;
use crate::write::budget_text::{self, budget_text};
use crate::write::client_page::client_page;
use crate::write::json::client_json;
use crate::write::requests::requests;
use crate::write::review::{self, review};
use crate::write::stage::{Replacing, Staging, Written};

const JSON: &str = "estimate.json";
const WORKBOOK: &str = "estimate.xlsx";
/// What may be sent to the client: nothing is in them that a client may not see.
const CLIENT_JSON: &str = "client.json";
const CLIENT_PAGE: &str = "client-page.txt";
/// A workbook without every price cannot be taken for the estimate, even in a list of files.
const WORKBOOK_WITHOUT_PRICES: &str = "estimate-NOT-COMPLETE.xlsx";

/// Names that outputs may have, other than those of price requests.
pub(super) const NAMES: [&str; 7] = [
    JSON,
    WORKBOOK,
    WORKBOOK_WITHOUT_PRICES,
    review::FILE,
    CLIENT_JSON,
    CLIENT_PAGE,
    budget_text::FILE,
];

/// Renders all outputs and puts them into `folder`, as those of the file `job`.
///
/// # Errors
/// Everything that stood in the way; then no output was touched, or the first one that failed is named.
pub(super) fn write(
    pipeline: &Pipeline,
    estimate: &Estimate,
    json: &str,
    (job, folder): (Option<String>, &Path),
    replacing: Replacing,
) -> Result<Written, Vec<Problem>> {
    let one = |problem: Box<Problem>| vec![*problem];
    let mut staging = Staging::open(folder, replacing).map_err(one)?.of_job(job);
    let workbook = (pipeline.workbook)(estimate).map_err(one)?;
    let name = if estimate.is_complete() {
        WORKBOOK
    } else {
        WORKBOOK_WITHOUT_PRICES
    };
    staging.add(name, &workbook).map_err(one)?;
    staging.add(JSON, json.as_bytes()).map_err(one)?;
    for (name, bytes) in for_client(estimate)? {
        staging.add(name, &bytes).map_err(one)?;
    }
    for request in requests(estimate) {
        staging.add(&request.file, &request.bytes).map_err(one)?;
    }
    if let Some(text) = budget_text(estimate) {
        staging
            .add(budget_text::FILE, text.as_bytes())
            .map_err(one)?;
    }
    if let Some(bytes) = review(&estimate.job.to_review) {
        staging.add(review::FILE, &bytes).map_err(one)?;
    }
    staging.publish()
}

/// What goes to the client; nothing while a price is missing.
fn for_client(estimate: &Estimate) -> Result<Vec<(&'static str, Vec<u8>)>, Vec<Problem>> {
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
        (CLIENT_JSON, json.into_bytes()),
        (CLIENT_PAGE, client_page(&view).into_bytes()),
    ])
}
