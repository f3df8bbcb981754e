//! One document before it is set: its template, its values, its drawings, and the letterhead it stands on.

use std::collections::BTreeMap;

use serde::Serialize;
use serde_json::{Value, json};

use super::letters::Missing;
use super::typeset::{COMMON, Set, Setting, VALUES, set};
use crate::drawing::{Anchor, Drawing, MM, Mark, svg};
use crate::model::settings::Paper;
use crate::problem::Problem;
use crate::write::letterhead::Letterhead;

/// Colour of headings and rules: a green so dark that it prints as near black.
const COLOUR: &str = "#23402f";

/// Templates that are built in, by name.
const TEMPLATES: [(&str, &str); 5] = [
    (
        COMMON,
        include_str!("../../../templates/documents/common.typ"),
    ),
    (
        "client-summary.typ",
        include_str!("../../../templates/documents/client-summary.typ"),
    ),
    (
        "crew-sheets.typ",
        include_str!("../../../templates/documents/crew-sheets.typ"),
    ),
    (
        "order.typ",
        include_str!("../../../templates/documents/order.typ"),
    ),
    (
        "grant-budget.typ",
        include_str!("../../../templates/documents/grant-budget.typ"),
    ),
];

/// A finished document, and what there is to say of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Made {
    /// Its file name.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// A drawing as a template finds it: lines and fillings in a file, words beside it, so that they are set as
/// all words are.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Picture {
    /// File.
    file: String,
    /// What it shows.
    alt: String,
    /// Millimetres.
    width: f64,
    /// Millimetres.
    height: f64,
    /// Its words.
    words: Vec<Word>,
}

/// Words in a drawing.
#[derive(Clone, Debug, Serialize)]
struct Word {
    text: String,
    /// Millimetres from the left and from the top, to the baseline.
    x: f64,
    y: f64,
    anchor: &'static str,
    upright: bool,
    strong: bool,
    plate: bool,
}

/// A document that is being put together.
#[derive(Debug)]
pub(super) struct Draft<'a> {
    template: &'static str,
    title: String,
    paper: Paper,
    letterhead: &'a Letterhead,
    drawings: BTreeMap<String, String>,
    missing: Missing,
}

impl<'a> Draft<'a> {
    pub(super) fn new(
        template: &'static str,
        title: String,
        paper: Paper,
        letterhead: &'a Letterhead,
    ) -> Self {
        Self {
            template,
            title,
            paper,
            letterhead,
            drawings: BTreeMap::new(),
            missing: Missing::default(),
        }
    }

    /// Puts a drawing beside the template.
    pub(super) fn picture(&mut self, drawing: &Drawing) -> Picture {
        let file = format!("drawing-{}.svg", self.drawings.len().saturating_add(1));
        let mut lines = drawing.clone();
        lines
            .marks
            .retain(|mark| !matches!(mark, Mark::Words { .. }));
        self.drawings.insert(file.clone(), svg(&lines));
        Picture {
            file,
            alt: drawing.alt.clone(),
            width: millimetres(drawing.width),
            height: millimetres(drawing.height),
            words: drawing.marks.iter().filter_map(word).collect(),
        }
    }

    /// Sets the document with its values. A template of the letterhead that is wrong is told of with its line,
    /// and the one that is built in takes its place.
    ///
    /// # Errors
    /// A mistake of ours: the built-in template cannot be set.
    pub(super) fn finish(
        mut self,
        name: String,
        page: &impl Serialize,
        problems: &mut Vec<Problem>,
    ) -> Result<(Made, Missing), Box<Problem>> {
        let bug = |words: String| Box::new(Problem::bug(format!("{name} cannot be set: {words}")));
        let page = serde_json::to_value(page).map_err(|e| bug(e.to_string()))?;
        let mut values = json!({
            "title": self.title,
            "paper": match self.paper { Paper::A4 => "a4", Paper::Letter => "us-letter" },
            "colour": self.letterhead.colour.as_deref().unwrap_or(COLOUR),
            "logo": self.letterhead.logo,
            "terms": self.letterhead.terms,
            "page": page,
        });
        self.missing.shown_within(&mut values);
        let own = self.letterhead.files.keys();
        let has_own = own
            .clone()
            .any(|file| TEMPLATES.iter().any(|(t, _)| t == file));
        let set = match self.set(&values, true) {
            Err(words) if has_own => {
                problems.push(wrong_template(self.letterhead, &words));
                self.set(&values, false)
            }
            set => set,
        };
        let set = set.map_err(bug)?;
        if let Some(words) = &set.not_accessible {
            problems.push(Problem::notice(format!(
                "{name} is made without the marks that screen readers need: {words}"
            )));
        }
        let made = Made {
            name,
            bytes: set.bytes,
        };
        Ok((made, self.missing))
    }

    fn set(&self, values: &Value, with_own: bool) -> Result<Set, String> {
        let built_in = TEMPLATES.iter();
        let mut files: BTreeMap<String, Vec<u8>> = built_in
            .map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec()))
            .collect();
        let own = self.letterhead.files.iter();
        let own = own.filter(|(name, _)| with_own || !files_of_templates(name));
        files.extend(own.map(|(name, bytes)| (name.clone(), bytes.clone())));
        let drawings = self.drawings.iter();
        files.extend(drawings.map(|(name, svg)| (name.clone(), svg.clone().into_bytes())));
        files.insert(VALUES.to_owned(), values.to_string().into_bytes());
        set(&Setting {
            template: self.template.to_owned(),
            files,
        })
    }
}

fn word(mark: &Mark) -> Option<Word> {
    let Mark::Words {
        at,
        text,
        anchor,
        upright,
        strong,
        plate,
    } = mark
    else {
        return None;
    };
    Some(Word {
        text: text.clone(),
        x: millimetres(at.0),
        y: millimetres(at.1),
        anchor: match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        },
        upright: *upright,
        strong: *strong,
        plate: *plate,
    })
}

fn files_of_templates(name: &str) -> bool {
    TEMPLATES.iter().any(|(template, _)| *template == name)
}

fn wrong_template(letterhead: &Letterhead, words: &str) -> Problem {
    Problem::caution(format!(
        "a template of the letterhead cannot be used: {words}"
    ))
    .place(letterhead.folder.clone())
    .hint("the built-in template was used; mend yours, or take its file out of the folder")
}

/// For the template alone; nothing is reckoned with it.
#[allow(
    clippy::float_arithmetic,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    reason = "a width on paper, in hundredths of a millimetre, far below 2^53"
)]
fn millimetres(paper: i64) -> f64 {
    paper as f64 / MM as f64
}
