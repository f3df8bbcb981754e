//! From a template and its values to a PDF: tagged, the same bytes for the same input, nothing fetched.
//!
//! Values reach a template as JSON and drawings as SVG, never as markup, so that nothing that somebody typed
//! is read as a command. The template sees no file beside those that it is given, no clock and no network.

use std::collections::BTreeMap;
use std::path::Path;

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use super::letters::FONTS;
use super::pack::packed;

/// Name of the file of values.
pub(super) const VALUES: &str = "values.json";
/// Name of the file that all templates share.
pub(super) const COMMON: &str = "common.typ";

/// What a document is set from.
#[derive(Clone, Debug, Default)]
pub(super) struct Setting {
    /// Name of the template: `client-summary.typ`.
    pub(super) template: String,
    /// Files by name: templates, values, drawings, a logo.
    pub(super) files: BTreeMap<String, Vec<u8>>,
}

/// A finished PDF.
#[derive(Debug)]
pub(super) struct Set {
    /// Its bytes.
    pub(super) bytes: Vec<u8>,
    /// Why it is not accessible in full, when it is not.
    pub(super) not_accessible: Option<String>,
}

/// Sets a document.
///
/// # Errors
/// What the template does wrong, with its file and line.
pub(super) fn set(setting: &Setting) -> Result<Set, String> {
    let desk = Desk::of(setting)?;
    let compiled = typst::compile::<PagedDocument>(&desk);
    let document = compiled.output.map_err(|errors| desk.first(&errors))?;
    // Nothing is set twice in one run, and a run that watches would keep everything.
    typst::comemo::evict(0);
    let accessible = options(&[PdfStandard::Ua_1])?;
    let (bytes, not_accessible) = match typst_pdf::pdf(&document, &accessible) {
        Ok(bytes) => (bytes, None),
        Err(errors) => {
            let plain = typst_pdf::pdf(&document, &options(&[])?);
            let why = desk.first(&errors);
            (plain.map_err(|errors| desk.first(&errors))?, Some(why))
        }
    };
    Ok(Set {
        bytes: packed(bytes),
        not_accessible,
    })
}

fn options(standards: &[PdfStandard]) -> Result<PdfOptions, String> {
    let standards = PdfStandards::new(standards).map_err(|e| e.message().to_string())?;
    Ok(PdfOptions {
        ident: Smart::Auto,
        creator: Smart::Custom(Some("loamwright".to_owned())),
        timestamp: None,
        standards,
        ..PdfOptions::default()
    })
}

/// Everything that a template may look at.
struct Desk {
    library: LazyHash<Library>,
    main: FileId,
    sources: BTreeMap<String, Source>,
    files: BTreeMap<String, Bytes>,
}

impl Desk {
    fn of(setting: &Setting) -> Result<Self, String> {
        let mut sources = BTreeMap::new();
        let mut files = BTreeMap::new();
        for (name, bytes) in &setting.files {
            if is_template(name) {
                let text = String::from_utf8(bytes.clone())
                    .map_err(|_| format!("{name} is not text in UTF-8"))?;
                sources.insert(name.clone(), Source::new(id_of(name)?, text));
            }
            files.insert(name.clone(), Bytes::new(bytes.clone()));
        }
        Ok(Self {
            library: LazyHash::new(Library::default()),
            main: id_of(&setting.template)?,
            sources,
            files,
        })
    }

    /// The first error, with its file and line.
    fn first(&self, errors: &[SourceDiagnostic]) -> String {
        let Some(error) = errors.first() else {
            return "the document cannot be set".to_owned();
        };
        let place = error.span.id().and_then(|id| {
            let source = self.source(id).ok()?;
            let start = self.range(error.span)?.start;
            let line = source.lines().byte_to_line(start)?.saturating_add(1);
            Some(format!("{}, line {line}: ", name_of(id)))
        });
        let hint = error.hints.first();
        let hint = hint.map_or_else(String::new, |hint| format!(" ({})", hint.v));
        format!("{}{}{hint}", place.unwrap_or_default(), error.message)
    }
}

fn is_template(name: &str) -> bool {
    Path::new(name).extension().is_some_and(|e| e == "typ")
}

fn id_of(name: &str) -> Result<FileId, String> {
    let path = VirtualPath::new(name).map_err(|e| format!("{name}: {e}"))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

fn name_of(id: FileId) -> &'static str {
    id.get().vpath().get_without_slash()
}

fn nowhere(id: FileId) -> FileError {
    FileError::NotFound(name_of(id).into())
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FONTS.0
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let source = self.sources.get(name_of(id)).filter(|_| is_ours(id));
        source.cloned().ok_or_else(|| nowhere(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let file = self.files.get(name_of(id)).filter(|_| is_ours(id));
        file.cloned().ok_or_else(|| nowhere(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.1.get(index).cloned()
    }

    /// No template knows the day but by its values.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// Whether a file is one of those that were given, and not of a package.
fn is_ours(id: FileId) -> bool {
    matches!(id.get().root(), VirtualRoot::Project)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(template: &str) -> Result<Set, String> {
        let mut files = BTreeMap::new();
        files.insert("page.typ".to_owned(), template.as_bytes().to_vec());
        let values = br##"{"name": "#panic(1) *bold* $x$ [a] \"q\" <b>"}"##;
        files.insert(VALUES.to_owned(), values.to_vec());
        set(&Setting {
            template: "page.typ".to_owned(),
            files,
        })
    }

    const HEAD: &str = "#set document(title: \"T\")\n#set text(font: \"Noto Sans\")\n= H\n";

    #[test]
    fn values_are_text_and_never_markup() {
        let page = format!("{HEAD}#json(\"values.json\").name");
        let set = one(&page).unwrap();
        assert!(set.bytes.starts_with(b"%PDF-"));
        assert_eq!(set.not_accessible, None);
        let pdf = lopdf::Document::load_mem(&set.bytes).unwrap();
        let text = pdf.extract_text(&[1]).unwrap();
        let plain: String = text.split_whitespace().collect();
        assert!(plain.contains("#panic(1)*bold*$x$[a]\"q\"<b>"), "{text}");
    }

    #[test]
    fn the_same_input_gives_the_same_bytes() {
        let page = format!("{HEAD}#table(columns: 2, table.header[a][b], [1], [2])");
        assert_eq!(one(&page).unwrap().bytes, one(&page).unwrap().bytes);
    }

    #[test]
    fn a_wrong_template_is_named_with_its_line() {
        let told = one("= A\n\n#nothing()").unwrap_err();
        assert!(
            told.starts_with("page.typ, line 3: unknown variable: nothing"),
            "{told}"
        );
    }

    #[test]
    fn a_template_reads_no_file_that_it_is_not_given_and_no_package() {
        for wanted in ["/etc/passwd", "../Cargo.toml", "secret.txt"] {
            let told = one(&format!("{HEAD}#read(\"{wanted}\")")).unwrap_err();
            assert!(told.contains("page.typ, line 4"), "{told}");
        }
        let told = one("#import \"@preview/example:0.1.0\": x").unwrap_err();
        assert!(told.contains("line 1"), "{told}");
    }

    #[test]
    fn what_cannot_be_made_accessible_is_made_and_said() {
        let set = one("no heading and no title").unwrap();
        assert!(set.not_accessible.is_some() && set.bytes.starts_with(b"%PDF-"));
    }
}
