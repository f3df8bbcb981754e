//! The README as a promise: its pictures are there, and what it shows of a terminal is printed now.
//!
//! A fence called `console` holds commands behind `$ ` and below each what it prints, standard error
//! first; `...` stands for lines that are left out, all others stand in the output without a gap. After a
//! change that is meant, `LOAMWRIGHT_BLESS=1 cargo test --test it examples` puts the line that is most
//! like it in the place of each that is printed no more.

use std::fs;
use std::path::Path;

use tempfile::TempDir;

use crate::cli::run_in;
use crate::folders::{files_below, root};

/// Stands for lines that are left out.
const GAP: &str = "...";
/// Most bytes of a picture, so that the README opens at once.
const LARGEST: usize = 60_000;

/// A command and what the README shows of its output.
struct Excerpt {
    command: String,
    /// Lines below the command, each with its place in the README.
    shown: Vec<(usize, String)>,
}

fn readme() -> String {
    let text = fs::read_to_string(root("README.md")).unwrap();
    text.replace("\r\n", "\n")
}

fn excerpts(readme: &str) -> Vec<Excerpt> {
    let mut found: Vec<Excerpt> = Vec::new();
    let mut is_console = false;
    for (place, line) in readme.lines().enumerate() {
        if line.starts_with("```") {
            is_console = line == "```console";
        } else if let Some(command) = line.strip_prefix("$ ").filter(|_| is_console) {
            found.push(Excerpt {
                command: command.to_owned(),
                shown: Vec::new(),
            });
        } else if is_console {
            let excerpt = found.last_mut().expect("a console begins with a command");
            excerpt.shown.push((place, line.to_owned()));
        }
    }
    found
}

/// A folder with what the README's commands name: the examples, and a workbook whose cell D7 is at fault.
fn desk() -> TempDir {
    let desk = tempfile::tempdir().unwrap();
    for (name, bytes) in files_below(&root("examples")) {
        let copy = desk.path().join("examples").join(name);
        fs::create_dir_all(copy.parent().unwrap()).unwrap();
        fs::write(copy, bytes).unwrap();
    }
    let book = "[Beds]
1: Bed | Count | Shape | Length | Width (ft) | Height (in) | Frame | Fill
2: A1 | 2 | rectangle | 8 ft | 4 | 18.5 | 2x10 | Topsoil
3: A2 | 1 | rectangle | 6 ft | 4 | 18.5 | 2x10 | Topsoil
4: A3 | 1 | rectangle | 8 ft | 3 | 18.5 | 2x10 | Topsoil
5: A4 | 1 | rectangle | 12 ft | 4 | 18.5 | 2x10 | Topsoil
6: A5 | 1 | rectangle | 10 ft | 4 | 18.5 | 2x10 | Topsoil
7: A6 | 3 | rectangle | 8 | 4 | 18.5 | 2x10 | Topsoil
";
    crate::books::write(book, &desk.path().join("job.xlsx")).unwrap();
    desk
}

/// What a command prints, standard error first, as a terminal has it.
#[track_caller]
fn printed(desk: &Path, command: &str) -> Vec<String> {
    let mut words = command.split(' ');
    assert_eq!(words.next(), Some("loamwright"), "{command}");
    let words: Vec<&str> = words.collect();
    let output = run_in(desk, &words, "");
    let code = output.status.code();
    assert!(matches!(code, Some(0 | 1)), "{command} ended with {code:?}");
    let text = [output.stderr, output.stdout].map(|bytes| String::from_utf8(bytes).unwrap());
    let lines = text.iter().flat_map(|text| text.lines());
    lines.map(|line| line.trim_end().to_owned()).collect()
}

/// The first line of an excerpt that is not printed where it should be.
fn first_stale<'e>(excerpt: &'e Excerpt, printed: &[String]) -> Option<&'e (usize, String)> {
    let mut rest = printed;
    let mut after_gap = false;
    for line in &excerpt.shown {
        if line.1 == GAP {
            after_gap = true;
            continue;
        }
        let at = rest.iter().position(|p| *p == line.1);
        match at.filter(|at| after_gap || *at == 0) {
            Some(at) => rest = &rest[at + 1..],
            None => return Some(line),
        }
        after_gap = false;
    }
    let is_cut_short = !after_gap && !rest.is_empty();
    excerpt.shown.last().filter(|_| is_cut_short)
}

/// The printed line that has at least half of its words in common with a stale one, and more than others.
fn most_like<'p>(stale: &str, printed: &'p [String]) -> Option<&'p str> {
    let words = |line: &str| {
        line.split_whitespace()
            .map(str::to_owned)
            .collect::<Vec<_>>()
    };
    let wanted = words(stale);
    let mut best: Option<(usize, &str)> = None;
    for line in printed {
        let found = words(line);
        let common = wanted.iter().filter(|word| found.contains(word)).count();
        let is_like = common * 2 >= wanted.len().max(found.len());
        if is_like && best.is_none_or(|(most, _)| common > most) {
            best = Some((common, line));
        }
    }
    best.map(|(_, line)| line)
}

/// The README with each line that is printed no more replaced by what is printed in its place.
#[track_caller]
fn blessed(readme: &str, desk: &Path) -> String {
    let mut lines: Vec<String> = readme.lines().map(str::to_owned).collect();
    for excerpt in excerpts(readme) {
        let printed = printed(desk, &excerpt.command);
        let shown = excerpt.shown.iter().filter(|(_, line)| line != GAP);
        for (place, stale) in shown.filter(|(_, line)| !printed.contains(line)) {
            let line = most_like(stale, &printed);
            let line = line.unwrap_or_else(|| panic!("nothing is printed like: {stale}"));
            line.clone_into(&mut lines[*place]);
        }
    }
    lines.join("\n") + "\n"
}

#[test]
fn what_the_readme_shows_of_the_examples_is_what_they_print() {
    let desk = desk();
    if std::env::var_os("LOAMWRIGHT_BLESS").is_some() {
        let now = readme();
        let blessed = blessed(&now, desk.path());
        if blessed != now {
            fs::write(root("README.md"), blessed).unwrap();
        }
    }
    let excerpts = excerpts(&readme());
    for example in ["clinic-gardens", "learning-garden", "terrace-allotments"] {
        let command = format!("loamwright examples/{example}/job");
        let is_shown = excerpts.iter().any(|e| e.command == command);
        assert!(is_shown, "the README has no console with {command}");
    }
    for excerpt in &excerpts {
        let printed = printed(desk.path(), &excerpt.command);
        if let Some((place, line)) = first_stale(excerpt, &printed) {
            panic!(
                "README.md:{}: {} does not print this here: {line:?}\nbut\n{}",
                place + 1,
                excerpt.command,
                printed.join("\n")
            );
        }
    }
}

#[test]
fn an_excerpt_holds_only_while_its_lines_are_printed_together_and_in_order() {
    let printed = ["one", "two", "three", "four"].map(str::to_owned);
    let holds = |shown: &str| {
        let text = format!("```console\n$ loamwright x\n{shown}\n```\n");
        let excerpts = excerpts(&text);
        assert_eq!(excerpts.len(), 1);
        first_stale(&excerpts[0], &printed).is_none()
    };
    assert!(holds("one\ntwo\nthree\nfour"));
    assert!(holds("...\ntwo\nthree\n..."));
    assert!(holds("one\n...\nfour"));
    assert!(!holds("two\n..."), "the first line is missing");
    assert!(!holds("one\ntwo"), "the end is missing");
    assert!(!holds("one\nthree\n..."), "a line is passed over");
    assert!(!holds("...\nfour\n...\ntwo\n..."), "the order is another");
    assert!(!holds("...\nfive\n..."), "it is not printed");
}

#[test]
fn a_stale_line_gives_way_to_the_one_most_like_it() {
    let printed = [
        "  Materials    6,468.25",
        "  18 boards of 2x10 cedar, 8'   691.20",
        "  11 boards of 2x10 cedar, 12'  633.60",
    ];
    let printed = printed.map(str::to_owned);
    let check = |stale: &str, like: Option<usize>| {
        let found = most_like(stale, &printed);
        assert_eq!(found, like.map(|at| printed[at].as_str()), "{stale}");
    };
    check("  Materials    6,400.00", Some(0));
    // 5 of 6 words in common with the second line, 4 of 6 with the third.
    check("  17 boards of 2x10 cedar, 8'   652.80", Some(1));
    check("  2 tanks of 6 ft", None);
}

#[test]
fn pictures_of_the_readme_are_there_and_small() {
    let readme = readme();
    let links = readme.split("![").skip(1).map(|link| {
        let (words, rest) = link.split_once("](").expect("a picture has a link");
        (words, rest.split(')').next().unwrap_or_default())
    });
    let mut named: Vec<&str> = Vec::new();
    for (words, link) in links {
        assert!(words.len() > 20, "{link} says too little to who cannot see");
        let bytes = fs::read(root(link)).unwrap_or_else(|e| panic!("{link}: {e}"));
        assert!(bytes.starts_with(b"\x89PNG\r\n\x1a\n"), "{link}");
        assert!(bytes.len() < LARGEST, "{link} has {} bytes", bytes.len());
        named.push(link);
    }
    assert!(named.len() >= 3, "{named:?}");
    for name in files_below(&root("examples/pictures")).keys() {
        let link = format!("examples/pictures/{}", name.display());
        let is_picture = name.extension().is_some_and(|e| e == "png");
        let is_named = named.contains(&link.as_str());
        assert!(!is_picture || is_named, "{link} is not shown");
    }
}
