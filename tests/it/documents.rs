//! The PDFs: whole, tagged, small, the same every time; nothing of the owner's in the client's, and nothing
//! that somebody types can break a page. Longer than most because each promise of the documents has its test here.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use loamwright::price::Estimate;
use loamwright::price::client::ClientView;
use loamwright::write::document::Desk;
use loamwright::write::letterhead::{self, Letterhead};
use lopdf::{Document, Object};
use tempfile::TempDir;

use crate::client::leaks_in;
use crate::folders::{folders_in, root};
use crate::pipeline::priced;

/// The largest that a document of an ordinary job may be, in bytes.
const LARGEST: usize = 300_000;

/// All documents of an estimate by name, and what was said.
fn made(estimate: &Estimate, letterhead: &Letterhead) -> (BTreeMap<String, Vec<u8>>, Vec<String>) {
    let mut desk = Desk::new(letterhead, estimate.job.settings.paper.value);
    if let Some(view) = ClientView::of(estimate) {
        desk.client(&view).unwrap();
    }
    desk.crew(estimate).unwrap();
    desk.orders(estimate).unwrap();
    desk.budget(estimate).unwrap();
    let (made, problems) = desk.close();
    let files = made.into_iter().map(|made| (made.name, made.bytes));
    (
        files.collect(),
        problems.into_iter().map(|p| p.sentence).collect(),
    )
}

fn plain(estimate: &Estimate) -> (BTreeMap<String, Vec<u8>>, Vec<String>) {
    made(estimate, &Letterhead::default())
}

/// All text in the order of the pages, blanks as one.
fn text(bytes: &[u8]) -> String {
    let pdf = Document::load_mem(bytes).unwrap();
    let pages: Vec<u32> = pdf.get_pages().keys().copied().collect();
    let text = pdf.extract_text(&pages).unwrap();
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ")
}

fn pages(bytes: &[u8]) -> usize {
    Document::load_mem(bytes).unwrap().get_pages().len()
}

/// Tagged, with a language and a title that the window shows.
#[track_caller]
fn check_accessible(name: &str, bytes: &[u8]) {
    let pdf = Document::load_mem(bytes).unwrap();
    let catalog = pdf.catalog().unwrap();
    let marked = catalog.get(b"MarkInfo").and_then(Object::as_dict).unwrap();
    assert!(marked.get(b"Marked").unwrap().as_bool().unwrap(), "{name}");
    assert!(catalog.has(b"StructTreeRoot"), "{name}");
    assert_eq!(
        catalog.get(b"Lang").unwrap().as_str().unwrap(),
        b"en",
        "{name}"
    );
    let shown = catalog
        .get(b"ViewerPreferences")
        .and_then(Object::as_dict)
        .unwrap();
    assert!(
        shown.get(b"DisplayDocTitle").unwrap().as_bool().unwrap(),
        "{name}"
    );
    let metadata = catalog
        .get(b"Metadata")
        .and_then(Object::as_reference)
        .unwrap();
    let metadata = pdf
        .get_object(metadata)
        .and_then(Object::as_stream)
        .unwrap();
    let metadata = String::from_utf8_lossy(&metadata.content).into_owned();
    assert!(metadata.contains("pdfuaid:part"), "{name}: {metadata}");
    // Neither who ran it, nor where, nor when.
    for word in ["CreateDate", "ModifyDate", "dc:creator", "/home", "/tmp"] {
        assert!(!metadata.contains(word), "{metadata}");
    }
}

#[test]
fn the_documents_of_every_example_are_whole_tagged_small_and_the_same_every_time() {
    for example in folders_in(&root("examples")) {
        if !example.join("job").is_dir() {
            continue;
        }
        let estimate = priced(&example.join("job"));
        let (files, said) = plain(&estimate);
        assert_eq!(said, Vec::<String>::new());
        let suppliers = files
            .keys()
            .filter(|name| name.starts_with("order-"))
            .count();
        assert!(suppliers >= 1 && files.contains_key("crew-sheets.pdf"));
        for (name, bytes) in &files {
            check_accessible(name, bytes);
            assert!(bytes.len() < LARGEST, "{name}: {}", bytes.len());
        }
        assert!(pages(&files["client-summary.pdf"]) <= 3);
        assert_eq!(files, plain(&estimate).0);
    }
}

#[test]
fn the_client_reads_the_price_and_nothing_of_the_owners() {
    for example in ["clinic-gardens", "learning-garden", "terrace-allotments"] {
        let estimate = priced(&root("examples").join(example).join("job"));
        let view = ClientView::of(&estimate).unwrap();
        let (files, _) = plain(&estimate);
        let page = text(&files["client-summary.pdf"]);
        let total = view.head.currency.show(view.total);
        assert!(page.contains(&total), "{page}");
        for line in &view.lines {
            assert!(
                page.contains(&view.head.currency.show(line.amount)),
                "{line:?}"
            );
        }
        let leaks = leaks_in(&estimate, &view, &[page]);
        assert!(leaks.is_empty(), "{leaks:#?}");
    }
}

#[test]
fn a_crew_reads_layers_pieces_and_cautions_and_no_money() {
    let estimate = priced(&root("examples/clinic-gardens/job"));
    let (files, _) = plain(&estimate);
    let sheets = text(&files["crew-sheets.pdf"]);
    // A1 is filled to 17.5 in: 5 + 3 + 7.5 + 2; its marks stand at 5, 8, 15.5 and 17.5 in.
    for words in [
        "A1 Herb walk",
        "15.5 in",
        "17.5 in",
        "Order of work",
        "Tools to bring",
    ] {
        assert!(sheets.contains(words), "{words}");
    }
    for caution in estimate.problems.iter().filter(|p| p.caution.is_some()) {
        let start: String = caution
            .sentence
            .split_whitespace()
            .take(5)
            .collect::<Vec<_>>()
            .join(" ");
        assert!(sheets.contains(&start), "{start}");
    }
    let currency = estimate.job.settings.currency.value;
    assert!(!sheets.contains(&currency.show(estimate.price.total)));
    assert!(!sheets.contains(&currency.show(estimate.price.direct_cost)));
}

#[test]
fn an_order_holds_what_its_supplier_sells_and_comes_to_its_lines() {
    let estimate = priced(&root("examples/terrace-allotments/job"));
    let (files, _) = plain(&estimate);
    let order = text(&files["order-Kiln Lane Earthworks.pdf"]);
    // 165 + 26 + 231 at the lower terrace, 297 + 404.25 at the upper one: 1,123.25; seven trips.
    for words in [
        "1,123.25",
        "7 trips charged",
        "on the turning place",
        "What to say on the phone",
    ] {
        assert!(order.contains(words), "{words}: {order}");
    }
    for other in ["Oxbow", "Weir Street"] {
        assert!(!order.contains(other));
    }
    let price = estimate
        .job
        .settings
        .currency
        .value
        .show(estimate.price.total);
    assert!(!order.contains(&price));
}

#[test]
fn the_budget_holds_every_line_to_the_dollar() {
    let estimate = priced(&root("examples/learning-garden/job"));
    let (files, _) = plain(&estimate);
    let page = text(&files["grant-budget.pdf"]);
    let budget = estimate.price.budget.as_ref().unwrap();
    for line in &budget.lines {
        let first = line
            .narrative
            .split_whitespace()
            .take(4)
            .collect::<Vec<_>>()
            .join(" ");
        assert!(page.contains(&first), "{first}");
    }
    assert!(
        page.contains("Not funded") && page.contains("28,202"),
        "{page}"
    );
}

/// A job of one bed under a name, in a frame of that name.
fn job_of(bed: &str, frame: &str) -> TempDir {
    let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let (bed, frame) = (quoted(bed), quoted(frame));
    let prices = "Supplier,Material,Pack,Holds,Price\nYard,2x10 cedar,board,8 ft,20\nYard,Topsoil,yard,1 yd3,40\n";
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in [
        (
            "Job",
            format!("Setting,Value\nJob name,{bed}\nDate,2026-03-01\nCurrency,USD\n"),
        ),
        (
            "Beds",
            format!(
                "Bed,Length (ft),Width (ft),Courses,Frame,Fill,Note\n{bed},8,4,2,{frame},Topsoil,{bed}\n"
            ),
        ),
        (
            "Frames",
            format!("Frame,Frame kind,Material\n{frame},boards,2x10 cedar\n"),
        ),
        ("Prices", prices.to_owned()),
        ("Workers", "Worker,Pay rate\nA,20\n".to_owned()),
    ] {
        fs::write(folder.path().join(format!("{name}.csv")), text).unwrap();
    }
    folder
}

#[test]
fn nothing_that_is_typed_becomes_a_command_or_breaks_a_page() {
    let long =
        "Northwestern-demonstration-and-propagation-bed-for-root-vegetables-and-brassicas-no-1";
    let unbroken = "x".repeat(120);
    let names = [
        "#panic(\"no\") *bold* _it_ $x^2$ @ref <label> // /* `raw` \\ = H",
        "]#read(\"/etc/passwd\")[",
        long,
        &unbroken,
        "ערוגה צפונית حوض الزهور",
    ];
    for name in names {
        let folder = job_of(name, name);
        let estimate = priced(folder.path());
        let (files, said) = plain(&estimate);
        assert_eq!(said, Vec::<String>::new(), "{name}");
        let summary = &files["client-summary.pdf"];
        check_accessible(name, summary);
        assert!(pages(summary) <= 2, "{name}");
        if name.is_ascii() {
            let page: String = text(summary).split_whitespace().collect();
            let bare: String = name.split_whitespace().collect();
            let page = page.replace('\u{200b}', "");
            assert!(page.contains(&bare), "{name}: {page}");
        }
    }
}

#[test]
fn letters_that_no_font_has_are_told_and_nothing_is_lost() {
    let folder = job_of("苗床 🌱", "Frame");
    let estimate = priced(folder.path());
    let (files, said) = plain(&estimate);
    assert!(text(&files["client-summary.pdf"]).contains("[U+82D7][U+5E8A]"));
    assert_eq!(
        said,
        [
            "the PDFs have no letters for some of the text and show 床 as [U+5E8A], 苗 as [U+82D7], 🌱 as [U+1F331]; \
          the workbook has the text whole"
        ]
    );
}

#[test]
fn two_hundred_kinds_of_bed_make_a_page_each() {
    let rows: Vec<String> = (1..=200)
        .map(|n| {
            format!(
                "B{n:03},{},{},2,2x10 cedar,Topsoil\n",
                4 + n % 17,
                3 + n % 13
            )
        })
        .collect();
    let folder = job_of("A", "Frame");
    let beds = format!(
        "Bed,Length (ft),Width (ft),Courses,Frame,Fill\n{}",
        rows.concat()
    );
    fs::write(folder.path().join("Beds.csv"), beds).unwrap();
    let estimate = priced(folder.path());
    // 17 x 13 pairs would be 221; 200 of them are met, each once.
    assert_eq!(estimate.kinds.kinds.len(), 200);
    let (files, said) = plain(&estimate);
    assert_eq!(said, Vec::<String>::new());
    assert!(pages(&files["crew-sheets.pdf"]) > 200);
    assert!(text(&files["client-summary.pdf"]).contains("B200"));
}

fn letterhead_of(files: &[(&str, &str)]) -> (TempDir, Letterhead) {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        fs::write(folder.path().join(name), text).unwrap();
    }
    let letterhead = letterhead::read(folder.path()).unwrap();
    (folder, letterhead)
}

#[test]
fn a_letterhead_puts_a_logo_and_terms_on_the_page() {
    let logo = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40\" height=\"20\"><rect width=\"40\" height=\"20\"/></svg>";
    let (_folder, letterhead) = letterhead_of(&[
        ("logo.svg", logo),
        ("colour.txt", "#0a3b5c"),
        ("terms.txt", "Paid within #14 days.\n\nNo $ back."),
    ]);
    let estimate = priced(&root("examples/clinic-gardens/job"));
    let (files, said) = made(&estimate, &letterhead);
    assert_eq!(said, Vec::<String>::new());
    let page = text(&files["client-summary.pdf"]);
    assert!(page.contains("Paid within #14 days."), "{page}");
    assert!(page.contains("No $ back."), "{page}");
    check_accessible("client-summary.pdf", &files["client-summary.pdf"]);
}

#[test]
fn a_template_of_ones_own_takes_the_place_of_ours_and_a_wrong_one_is_named_with_its_line() {
    let estimate = priced(&root("examples/clinic-gardens/job"));
    let own =
        "#import \"common.typ\": *\n#show: document-of\n= Our own page for #values.page.head.job\n";
    let (_folder, letterhead) = letterhead_of(&[("client-summary.typ", own)]);
    let (files, said) = made(&estimate, &letterhead);
    assert_eq!(said, Vec::<String>::new());
    assert_eq!(
        text(&files["client-summary.pdf"])
            .split(" Page")
            .next()
            .unwrap()
            .split(": quote")
            .next(),
        Some("Our own page for Larkspur Clinic gardens Larkspur Clinic gardens")
    );
    let (_folder, letterhead) =
        letterhead_of(&[("client-summary.typ", "= A\n\n#nothing-of-this\n")]);
    let (files, said) = made(&estimate, &letterhead);
    assert_eq!(
        said,
        [
            "a template of the letterhead cannot be used: client-summary.typ, line 3: unknown variable: nothing-of-this \
          (if you meant to use subtraction, try adding spaces around the minus signs: `nothing - of - this`)"
        ]
    );
    assert!(text(&files["client-summary.pdf"]).contains("What is built"));
}

#[test]
fn only_what_is_asked_for_is_written_and_the_rest_stays() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out");
    let run = |more: &[&str]| {
        let mut command = assert_cmd::Command::cargo_bin("loamwright").unwrap();
        command
            .arg("estimate")
            .arg(root("examples/clinic-gardens/job"));
        command.args(more).arg("--out").arg(&out).assert().success();
    };
    let names = |out: &Path| {
        let files = fs::read_dir(out).unwrap();
        let names = files.map(|f| f.unwrap().file_name().into_string().unwrap());
        let mut names: Vec<String> = names.filter(|name| !name.starts_with('.')).collect();
        names.sort();
        names
    };
    run(&["--only", "client,orders"]);
    assert_eq!(
        names(&out),
        [
            "client-page.txt",
            "client-summary.pdf",
            "client.json",
            "order-Hollow Creek Soil Yard.csv",
            "order-Hollow Creek Soil Yard.pdf",
            "order-Millrace Lumber.csv",
            "order-Millrace Lumber.pdf",
            "order-Tannery Road Supply.csv",
            "order-Tannery Road Supply.pdf",
        ]
    );
    run(&["--only", "drawings"]);
    let drawings = names(&out);
    assert!(drawings.contains(&"client-summary.pdf".to_owned()));
    assert!(drawings.contains(&"drawing-A2 Corner L-plan.svg".to_owned()));
    let svg = fs::read_to_string(out.join("drawing-A2 Corner L-section.svg")).unwrap();
    assert!(svg.contains("Garden blend") && svg.ends_with("</svg>\n"));
}
