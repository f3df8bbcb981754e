//! Commands from words to exit code, with stages of the test's own in place of reading and pricing.
//! Longer than other files: one test for each promise of the command line, side by side.

use std::io::{self, Write};
use std::path::{Path, PathBuf};

use jiff::civil::{Date, date};
use tempfile::TempDir;

use super::args::ColorWhen;
use super::clock::Surroundings;
use super::run::{Pipeline, Process, run};
use super::streams::{Stream, Streams};
use super::*;
use crate::model::source::{RowAt, Sources};
use crate::price::Estimate;
use crate::problem::{Problem, Staged};
use crate::read::{Loaded, Source};
use crate::write::fixture::{self, Came};

/// A job that reads and prices, with one line that has no price and one caution.
const GOOD: Pipeline = Pipeline {
    read: good_read,
    price: good_price,
    read_good_part: |_| Staged::clean(None),
    price_good_part: good_price,
    price_holding: good_price,
    stretch: |_, _, _| Err(Vec::new()),
    workbook: |estimate| Ok(format!("workbook of {}", estimate.date).into_bytes()),
};
/// The same with every price.
const COMPLETE: Pipeline = Pipeline {
    price: |loaded, date| {
        let mut staged = good_price(loaded, date);
        if let Some(estimate) = &mut staged.output {
            estimate.price.missing.clear();
            estimate.bought.lines.truncate(2);
        }
        staged
    },
    ..GOOD
};
/// A job with two mistakes, one of them in a cell.
const WRONG: Pipeline = Pipeline {
    read: |_| {
        let mut staged = good_read(&Source::Path(PathBuf::new()));
        let row = RowAt { table: 0, row: 1 };
        staged
            .problems
            .push(Problem::notice("a column is not known"));
        staged.problems.push(
            Problem::error("Height needs a unit or a number")
                .at(row, "Height")
                .hint("write 18 in"),
        );
        staged
            .problems
            .push(Problem::error("no frame of that name"));
        staged
    },
    ..GOOD
};
/// A stage that contradicts itself.
const BUGGY: Pipeline = Pipeline {
    price: |_, _| Staged {
        output: None,
        problems: vec![Problem::bug("a share is lost")],
    },
    ..GOOD
};

fn good_read(_: &Source) -> Staged<Option<Loaded>> {
    let estimate = fixture::estimate(Came::Workbook);
    Staged::clean(Some(Loaded {
        job: estimate.job,
        sources: estimate.sources,
        choices: None,
        alternates: Vec::new(),
    }))
}

fn good_price(loaded: Loaded, date: Date) -> Staged<Option<Estimate>> {
    Staged::clean(Some(Estimate {
        job: loaded.job,
        date,
        ..fixture::estimate(Came::Workbook)
    }))
}

/// What a run said and how it ended.
#[derive(Debug)]
struct Ran {
    exit: Exit,
    out: String,
    err: String,
}

/// A folder with a job in it.
struct Place(TempDir);

impl Place {
    fn new() -> Self {
        let place = Self(tempfile::tempdir().unwrap());
        std::fs::File::create(place.job()).unwrap();
        place
    }

    fn job(&self) -> PathBuf {
        self.0.path().join("job.xlsx")
    }

    fn outputs(&self) -> PathBuf {
        self.0.path().join("Three beds by the well-estimate")
    }

    /// Runs with `JOB` and `DIR` replaced by the job and its folder.
    #[track_caller]
    fn ran(&self, pipeline: &Pipeline, words: &str) -> Ran {
        let replaced = words.split_whitespace().map(|word| {
            word.replace("JOB", &self.job().display().to_string())
                .replace("DIR", &self.0.path().display().to_string())
        });
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let exit = ran_on(pipeline, replaced.collect(), &mut out, &mut err, false);
        Ran {
            exit,
            out: String::from_utf8(out).unwrap(),
            err: String::from_utf8(err).unwrap(),
        }
    }

    fn holds(&self) -> Vec<String> {
        names_in(self.0.path())
    }
}

/// All but the PDFs, which have tests of their own and which a build without the typesetter does not make.
fn names_in(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).unwrap();
    let names = entries.map(|e| e.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names
        .filter(|name| Path::new(name).extension().is_none_or(|e| e != "pdf"))
        .collect();
    names.sort();
    names
}

fn ran_on(
    pipeline: &Pipeline,
    words: Vec<String>,
    out: &mut dyn Write,
    err: &mut dyn Write,
    is_terminal: bool,
) -> Exit {
    let program = "loamwright".to_owned();
    let mut stdin = io::Cursor::new(b"Bed,Size\nA,4x8x18 in\n".to_vec());
    let process = Process {
        args: std::iter::once(program)
            .chain(words)
            .map(Into::into)
            .collect(),
        around: Ok(Surroundings {
            today: date(2026, 11, 24),
            epoch: None,
            color: ColorWhen::Auto,
        }),
        stdin: &mut stdin,
        streams: Streams::new(
            Stream::new(out, is_terminal),
            Stream::new(err, is_terminal),
            ColorWhen::Auto,
        ),
    };
    run(pipeline, process)
}

#[test]
fn an_estimate_is_written_and_summed_up() {
    let place = Place::new();
    let ran = place.ran(&COMPLETE, "estimate JOB");
    assert_eq!(ran.exit, Exit::Done, "{}", ran.err);
    assert!(ran.out.starts_with("Three beds by the well\n"));
    for name in [
        "client-page.txt, ",
        "client.json, ",
        "estimate.json, ",
        "estimate.xlsx",
    ] {
        assert!(ran.out.contains(name), "{name}: {}", ran.out);
    }
    assert!(ran.err.contains("caution: A wall of 18 1/2 in"));
    assert!(ran.err.contains("date of the estimate: 2026-11-24 (today"));
    assert_eq!(
        names_in(&place.outputs()),
        [
            ".loamwright.json",
            "client-page.txt",
            "client.json",
            "estimate.json",
            "estimate.xlsx",
            "order-Creek Yard.csv",
            "order-Mill Lane Timber.csv",
            "schedule.ics",
        ]
    );
}

#[test]
fn a_job_alone_is_estimated() {
    let place = Place::new();
    let plain = place.ran(&COMPLETE, "JOB --date 2026-01-02");
    assert_eq!(plain.exit, Exit::Done, "{}", plain.err);
    let named = place.ran(&COMPLETE, "estimate JOB --date 2026-01-02");
    assert_eq!(plain.out, named.out);
    assert!(plain.out.contains("Estimate of 2026-01-02"));
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let place = Place::new();
    place.ran(&GOOD, "JOB --out DIR/a --date 2026-01-02");
    place.ran(&GOOD, "JOB --out DIR/b --date 2026-01-02");
    let names = names_in(&place.0.path().join("a"));
    assert_eq!(names.len(), 8);
    for name in names {
        let bytes = |folder: &str| std::fs::read(place.0.path().join(folder).join(&name)).unwrap();
        assert!(bytes("a") == bytes("b"), "{name}");
    }
}

#[test]
fn a_price_that_is_not_complete_shows_in_the_file_name_and_asks_suppliers() {
    let place = Place::new();
    let ran = place.ran(&GOOD, "JOB");
    assert_eq!(ran.exit, Exit::Done);
    assert!(ran.out.contains("PRICE NOT COMPLETE: 1 line has no price"));
    assert_eq!(
        names_in(&place.outputs()),
        [
            ".loamwright.json",
            "estimate-NOT-COMPLETE.xlsx",
            "estimate.json",
            "order-Creek Yard.csv",
            "order-Mill Lane Timber.csv",
            "price-request-Creek Yard.csv",
            "price-request-Mill Lane Timber.csv",
            "schedule.ics",
        ]
    );
    let ran = place.ran(&COMPLETE, "JOB");
    assert_eq!(ran.exit, Exit::Done);
    assert!(
        ran.err
            .contains("notice: removed estimate-NOT-COMPLETE.xlsx of an earlier run")
    );
    assert_eq!(
        names_in(&place.outputs()),
        [
            ".loamwright.json",
            "client-page.txt",
            "client.json",
            "estimate.json",
            "estimate.xlsx",
            "order-Creek Yard.csv",
            "order-Mill Lane Timber.csv",
            "schedule.ics",
        ]
    );
}

#[test]
fn errors_are_all_told_and_nothing_is_written() {
    let place = Place::new();
    let ran = place.ran(&WRONG, "estimate JOB");
    assert_eq!(ran.exit, Exit::Problems);
    assert_eq!(ran.out, "");
    assert_eq!(
        ran.err,
        "error: Height needs a unit or a number\n  \
           at job.xlsx!Beds!B2, which holds \"18.5 in\"\n  \
           hint: write 18 in\n\
         error: no frame of that name\n\
         notice: a column is not known\n\
         2 errors; nothing was written\n"
    );
    assert_eq!(place.holds(), ["job.xlsx"]);
}

#[test]
fn strict_counts_cautions_and_not_notices() {
    let place = Place::new();
    let ran = place.ran(&GOOD, "JOB --strict");
    assert_eq!(ran.exit, Exit::Problems);
    assert!(ran.err.contains("error: A wall of 18 1/2 in"));
    assert!(ran.err.contains("notice: Height is taken as"));
    assert!(
        ran.err
            .ends_with("1 error (--strict counts cautions as errors); nothing was written\n")
    );
    assert_eq!(place.holds(), ["job.xlsx"]);
    assert_eq!(place.ran(&GOOD, "check JOB --strict").exit, Exit::Problems);
    assert_eq!(place.ran(&GOOD, "check JOB").exit, Exit::Done);
}

#[test]
fn quiet_hides_everything_but_errors_and_changes_no_exit_code() {
    let place = Place::new();
    let good = place.ran(&GOOD, "JOB --quiet");
    assert_eq!(
        (good.exit, good.out.as_str(), good.err.as_str()),
        (Exit::Done, "", "")
    );
    let wrong = place.ran(&WRONG, "JOB --quiet");
    assert_eq!(wrong.exit, Exit::Problems);
    assert!(wrong.err.contains("error: no frame") && !wrong.err.contains("notice"));
    let check = place.ran(&WRONG, "check JOB -q");
    assert_eq!(check.exit, Exit::Problems);
    assert!(check.out.contains("error: no frame") && !check.out.contains("notice"));
}

#[test]
fn json_is_the_file_and_nothing_else() {
    let place = Place::new();
    let ran = place.ran(&GOOD, "estimate JOB --json");
    assert_eq!(ran.exit, Exit::Done);
    let file = std::fs::read_to_string(place.outputs().join("estimate.json")).unwrap();
    assert_eq!(ran.out, file);
    let tree: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(tree["job"]["date"], "2026-11-24");
    assert_eq!(tree["cautions"].as_array().unwrap().len(), 1);
    let ran = place.ran(&WRONG, "estimate JOB --json");
    assert_eq!((ran.exit, ran.out.as_str()), (Exit::Problems, ""));
}

#[test]
fn check_tells_everything_and_writes_nothing() {
    let place = Place::new();
    let ran = place.ran(&GOOD, "check JOB");
    assert_eq!(ran.exit, Exit::Done);
    assert!(ran.out.starts_with(
        "caution: A wall of 18 1/2 in can need a permit; local code decides\n  at job.xlsx!Beds!B3"
    ));
    assert!(ran.out.ends_with("no errors, 1 caution, 2 notices\n"));
    assert_eq!(ran.err, "");
    let ran = place.ran(&WRONG, "check JOB");
    assert_eq!(ran.exit, Exit::Problems);
    assert!(ran.out.ends_with("2 errors, no cautions, 1 notice\n"));
    assert_eq!(place.holds(), ["job.xlsx"]);
}

#[test]
fn check_lists_problems_as_json() {
    let place = Place::new();
    let ran = place.ran(&WRONG, "check JOB --json");
    assert_eq!(ran.exit, Exit::Problems);
    let list: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(list.as_array().unwrap().len(), 3);
    assert_eq!(list[0]["severity"], "error");
    assert_eq!(list[0]["place"], "job.xlsx!Beds!B2");
    assert_eq!(list[0]["holds"], "18.5 in");
    assert_eq!(list[0]["hint"], "write 18 in");
}

#[test]
fn a_bug_of_ours_has_a_code_of_its_own() {
    let place = Place::new();
    for command in ["estimate JOB", "check JOB"] {
        let ran = place.ran(&BUGGY, command);
        assert_eq!(ran.exit, Exit::Bug);
        assert!(ran.err.contains("a bug of ours"), "{}", ran.err);
    }
    let silent = Pipeline {
        read: |_| Staged::clean(None),
        ..GOOD
    };
    let ran = place.ran(&silent, "JOB");
    assert_eq!(ran.exit, Exit::Bug, "nothing is never a success");
    assert_eq!(place.holds(), ["job.xlsx"]);
}

#[test]
fn a_workbook_that_cannot_be_made_leaves_no_output() {
    let place = Place::new();
    let broken = Pipeline {
        workbook: |_| Err(Box::new(Problem::bug("the workbook is too large"))),
        ..GOOD
    };
    let ran = place.ran(&broken, "JOB");
    assert_eq!(ran.exit, Exit::Bug);
    assert_eq!(place.holds(), ["job.xlsx"]);
}

#[test]
fn an_output_that_the_user_changed_stays_until_forced() {
    let place = Place::new();
    place.ran(&COMPLETE, "JOB");
    let workbook = place.outputs().join("estimate.xlsx");
    let mut file = std::fs::File::create(&workbook).unwrap();
    file.write_all(b"my own price").unwrap();
    let never = Pipeline {
        price: |_, _| panic!("it is refused before anything is computed"),
        ..COMPLETE
    };
    let ran = place.ran(&never, "JOB");
    assert_eq!(ran.exit, Exit::Problems);
    assert!(
        ran.err.contains(
            "estimate.xlsx was changed since this program wrote it, so it is not replaced"
        )
    );
    assert!(ran.err.contains("read it back as a job"));
    assert_eq!(std::fs::read(&workbook).unwrap(), b"my own price");
    assert_eq!(place.ran(&COMPLETE, "JOB --force").exit, Exit::Done);
    assert_eq!(std::fs::read(&workbook).unwrap(), b"workbook of 2026-11-24");
}

#[test]
fn outputs_never_go_into_the_job() {
    let place = Place::new();
    let ran = place.ran(&GOOD, "estimate DIR --out DIR");
    assert_eq!(ran.exit, Exit::Problems);
    assert!(
        ran.err
            .contains("the outputs cannot go into the folder of the job itself")
    );
    assert_eq!(place.holds(), ["job.xlsx"]);
}

#[test]
fn the_command_line_is_checked() {
    let place = Place::new();
    for (words, told) in [
        ("", "loamwright start job.xlsx"),
        ("--wrong", "unexpected argument"),
        ("start", "<NEW>"),
        ("start garden", "garden.xlsx"),
        ("start garden.xlsx --for sale", "possible values"),
        ("estimate", "name a job"),
        ("check", "name a job"),
        ("--quiet", "name a job"),
        ("estimate JOB --date 24.11.2026", "write the date as"),
        ("estimate JOB --beds b.csv", "cannot be used with"),
        ("estimate --prices p.csv", "--beds"),
        ("estimate --beds - --prices p.csv", "cannot be combined"),
        ("estimate JOB --color blue", "possible values"),
        ("check JOB --out DIR", "unexpected argument"),
    ] {
        let ran = place.ran(&GOOD, words);
        assert_eq!(ran.exit, Exit::CommandLine, "{words}");
        assert!(ran.err.contains(told), "{words}: {}", ran.err);
        assert_eq!(ran.out, "", "{words}");
    }
    assert_eq!(place.holds(), ["job.xlsx"]);
}

#[test]
fn help_version_and_schema_are_results() {
    let place = Place::new();
    for (words, told) in [
        ("--help", "loamwright check job.xlsx"),
        ("start --help", "--units"),
        ("estimate --help", "--force"),
        ("check --help", "--strict"),
        ("changes --help", "--order"),
        ("--version", "loamwright 0."),
        ("schema", "Estimate of raised garden beds"),
    ] {
        let ran = place.ran(&GOOD, words);
        assert_eq!(ran.exit, Exit::Done, "{words}");
        assert!(ran.out.contains(told), "{words}: {}", ran.out);
        assert_eq!(ran.err, "", "{words}");
    }
}

#[test]
fn surroundings_that_make_no_sense_are_told() {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let process = Process {
        args: vec!["loamwright".into(), "check".into(), "job.xlsx".into()],
        around: Err("SOURCE_DATE_EPOCH must be a number".to_owned()),
        stdin: &mut io::empty(),
        streams: Streams::new(
            Stream::new(&mut out, false),
            Stream::new(&mut err, false),
            ColorWhen::Auto,
        ),
    };
    assert_eq!(run(&GOOD, process), Exit::CommandLine);
    assert_eq!(err, b"error: SOURCE_DATE_EPOCH must be a number\n");
}

#[test]
fn beds_come_from_standard_input() {
    let stdin = Pipeline {
        read: |source| {
            let expected = Source::Text {
                name: "stdin".to_owned(),
                text: b"Bed,Size\nA,4x8x18 in\n".to_vec(),
            };
            assert_eq!(*source, expected);
            good_read(source)
        },
        ..GOOD
    };
    let place = Place::new();
    assert_eq!(place.ran(&stdin, "estimate - --out DIR/o").exit, Exit::Done);
    assert_eq!(place.ran(&stdin, "check --beds -").exit, Exit::Done);
}

#[test]
fn beds_and_prices_come_from_two_files() {
    let files = Pipeline {
        read: |source| {
            let expected = Source::Files {
                beds: "b.csv".into(),
                prices: Some("p.csv".into()),
            };
            assert_eq!(*source, expected);
            good_read(source)
        },
        ..GOOD
    };
    let place = Place::new();
    let ran = place.ran(&files, "--beds b.csv --prices p.csv --out DIR/o");
    assert_eq!(ran.exit, Exit::Done, "{}", ran.err);
}

/// Standard output that fails.
struct Failing(io::ErrorKind);

impl Write for Failing {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_reader_that_stops_is_no_error_and_a_full_disk_is() {
    let place = Place::new();
    let job = place.job().display().to_string();
    for (kind, exit) in [
        (io::ErrorKind::BrokenPipe, Exit::Done),
        (io::ErrorKind::StorageFull, Exit::Problems),
    ] {
        let mut err = Vec::new();
        let words = vec!["check".to_owned(), job.clone()];
        let found = ran_on(&GOOD, words, &mut Failing(kind), &mut err, false);
        assert_eq!(found, exit);
        let told = String::from_utf8(err).unwrap();
        assert_eq!(
            told.contains("cannot write to standard output"),
            exit != Exit::Done
        );
    }
}

#[test]
fn colour_goes_to_terminals_unless_told_otherwise() {
    let place = Place::new();
    let job = place.job().display().to_string();
    for (color, is_terminal, is_coloured) in [
        ("auto", true, true),
        ("auto", false, false),
        ("always", false, true),
        ("never", true, false),
    ] {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let words = ["check", &job, "--color", color].map(str::to_owned);
        ran_on(&GOOD, words.to_vec(), &mut out, &mut err, is_terminal);
        assert_eq!(out.contains(&0x1b), is_coloured, "{color} {is_terminal}");
    }
}

#[test]
fn a_terminal_gets_one_screen_and_anything_else_gets_all() {
    let many = Pipeline {
        read: |_| {
            let mut staged = good_read(&Source::Path(PathBuf::new()));
            let told = (0..60).map(|n| Problem::error(format!("mistake {n}")));
            staged.problems.extend(told);
            staged
        },
        ..GOOD
    };
    let place = Place::new();
    let job = place.job().display().to_string();
    let lines = |words: &[&str], is_terminal: bool| {
        let command = ["check", &job];
        let words = command.iter().chain(words);
        let words = words.map(|word| (*word).to_owned()).collect();
        let (mut out, mut err) = (Vec::new(), Vec::new());
        ran_on(&many, words, &mut out, &mut err, is_terminal);
        String::from_utf8(out).unwrap().lines().count()
    };
    // 60 mistakes and the line that counts them; on 24 lines, 5 are kept for what follows.
    assert_eq!(lines(&[], false), 61);
    assert_eq!(lines(&["--all"], true), 61);
    assert_eq!(lines(&[], true), 19 + 2);
}

#[test]
fn places_without_tables_are_told_as_they_are() {
    let problem = Problem::file("cannot open the workbook").place("job.xlsx");
    assert_eq!(
        problem.in_full(&Sources::default()),
        "error: cannot open the workbook\n  at job.xlsx"
    );
}

#[test]
fn the_first_steps_show_a_job_that_reads() {
    let sample: Vec<&str> = super::help::FIRST_STEPS
        .lines()
        .skip_while(|line| !line.contains("Bed,"))
        .take(2)
        .map(str::trim)
        .collect();
    let source = Source::Text {
        name: "stdin".to_owned(),
        text: sample.join("\n").into_bytes(),
    };
    let read = (run::PIPELINE.read)(&source);
    assert!(!read.has_errors(), "{:#?}", read.problems);
    assert_eq!(read.output.unwrap().job.beds[0].count, 3);
}

#[test]
fn a_price_request_that_was_filled_in_reads_as_prices() {
    let mut job = fixture::estimate(Came::Workbook);
    job.job.materials[0].name = "Topsoil".into();
    job.job.materials[1].name = "2x10".into();
    job.job.suppliers.clear();
    job.job.offers.clear();
    job.bought.lines.truncate(2);
    for line in &mut job.bought.lines {
        line.price = None;
        line.offer = None;
    }
    let blank = crate::write::requests::requests(&job).remove(0);
    let blank = String::from_utf8(blank.bytes).unwrap();
    let filled = blank
        .replace(",8 ft,,", ",8 ft,21.50,")
        .replace(",1 yd3,,", ",1 yd3,42,");

    let place = Place::new();
    let beds = place.0.path().join("beds.csv");
    put(
        &beds,
        "Bed,Size,Height,Frame,Fill\nA,4' x 8',18.5 in,2x10,Topsoil\n",
    );
    let prices = place.0.path().join("prices.csv");
    let read = |text: &str| {
        put(&prices, text);
        let read = (run::PIPELINE.read)(&Source::Files {
            beds: beds.clone(),
            prices: Some(prices.clone()),
        });
        assert!(!read.has_errors(), "{:#?}", read.problems);
        let job = read.output.unwrap().job;
        let offers = job.offers.iter().map(|offer| {
            let price = offer
                .price
                .as_ref()
                .map(|p| p.value.normalize().to_string());
            let holds = crate::units::System::UsCustomary.amount(offer.holds);
            (job.material_name(offer.material).to_owned(), holds, price)
        });
        offers.collect::<Vec<_>>()
    };
    let offer = |material: &str, holds: &str, price: Option<&str>| {
        (
            material.to_owned(),
            holds.to_owned(),
            price.map(str::to_owned),
        )
    };
    assert_eq!(
        read(&filled),
        [
            offer("2x10", "8 ft", Some("21.5")),
            offer("Topsoil", "1 yd3", Some("42")),
        ]
    );
    assert_eq!(
        read(&blank),
        [offer("2x10", "8 ft", None), offer("Topsoil", "1 yd3", None)],
        "a request that nobody answered is no mistake"
    );
}

fn put(path: &Path, text: &str) {
    let mut file = std::fs::File::create(path).unwrap();
    file.write_all(text.as_bytes()).unwrap();
}
