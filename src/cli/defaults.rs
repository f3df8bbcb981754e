//! `loamwright defaults`: the trade library in use, and what a job takes from it.

use std::path::{Path, PathBuf};

use super::Exit;
use super::args::{DefaultsArgs, JobArgs};
use super::priced::{Take, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::source;
use crate::price::assumptions::library_use;
use crate::problem::{Problem, Severity};
use crate::read::library;
use crate::write::shelf::{
    Grid, ShelfTable, UsedFigure, overview, shelf, shelf_json, table, used_figures, used_grid,
    used_json, used_screen, workbook,
};
use crate::write::single::put;
use crate::write::stage::Replacing;

/// The endings that `--out` takes.
const ENDINGS: &str = "--out takes a name that ends with .csv or .xlsx";
/// Why a CSV file needs a table.
const ONE_TABLE: &str = "a CSV file holds one table: name it, as in loamwright defaults materials";

pub(super) fn defaults(session: &mut Session, args: &DefaultsArgs) -> Exit {
    let loaded = library::load();
    if loaded.has_errors() {
        return session.failed(&loaded.problems);
    }
    let tables = shelf(&loaded.output).into_iter();
    let tables: Vec<ShelfTable> = tables
        .filter(|table| args.table.is_none_or(|t| t.name() == table.name))
        .map(|table| match &args.word {
            Some(word) => table.about(word),
            None => table,
        })
        .collect();
    if let (Some(word), true) = (&args.word, tables.iter().all(|t| t.rows.is_empty())) {
        let table = args.table.map_or("library", |t| t.name());
        return session.wrong_command_line(&format!("no row of {table} speaks of \"{word}\""));
    }
    match &args.used {
        Some(job) => used(session, args, job, &tables),
        None => whole(session, args, &tables),
    }
}

/// Shows or exports the tables.
fn whole(session: &mut Session, args: &DefaultsArgs, tables: &[ShelfTable]) -> Exit {
    if args.json {
        return json(session, shelf_json(tables));
    }
    if args.csv || args.out.is_some() {
        let grids: Vec<Grid> = tables.iter().map(Grid::of).collect();
        return export(session, args, &grids);
    }
    let (paint, width) = (session.streams.paint(), session.streams.screen().width);
    let text = match (tables, args.table) {
        ([one], Some(_)) => table(one, args.word.is_some(), paint, width),
        _ => overview(tables, paint, width),
    };
    session.streams.result(&text);
    Exit::Done
}

/// Shows or exports what a job takes from the tables.
fn used(session: &mut Session, args: &DefaultsArgs, job: &Path, tables: &[ShelfTable]) -> Exit {
    let figures = match figures(session, job, tables) {
        Ok(figures) => figures,
        Err(exit) => return exit,
    };
    if args.json {
        return json(session, used_json(&figures));
    }
    if args.csv || args.out.is_some() {
        return export(session, args, &[used_grid(&figures)]);
    }
    let (paint, width) = (session.streams.paint(), session.streams.screen().width);
    session.streams.result(&used_screen(&figures, paint, width));
    Exit::Done
}

fn figures(
    session: &mut Session,
    job: &Path,
    tables: &[ShelfTable],
) -> Result<Vec<UsedFigure>, Exit> {
    let args = JobArgs {
        job: Some(PathBuf::from(job)),
        beds: None,
        prices: None,
        date: None,
        strict: false,
        hold: false,
    };
    let source = match source(&args, session.stdin) {
        Ok(source) => source,
        Err(words) => return Err(session.wrong_command_line(&words)),
    };
    let progress = Progress::start(session.streams.shows_progress());
    let mut priced = priced(
        session.pipeline,
        (&args, Take::Whole),
        &source,
        &session.around,
        &progress,
        |_| Vec::new(),
    );
    drop(progress);
    let Some(estimate) = &priced.estimate else {
        // What only cautions is the business of `check`.
        priced.problems.retain(|p| p.severity == Severity::Error);
        session.streams.problems(&priced.problems, &priced.sources);
        return Err(session.ended(&priced.problems));
    };
    let uses = library_use(estimate, &library::builtin());
    Ok(used_figures(&uses, tables, &priced.sources))
}

fn json(session: &mut Session, text: Result<String, serde_json::Error>) -> Exit {
    match text {
        Ok(text) => {
            session.streams.result(&text);
            Exit::Done
        }
        Err(e) => session.failed(&[Problem::bug(format!("the JSON cannot be made: {e}"))]),
    }
}

/// The tables as CSV on standard output, or as the file that `--out` names.
fn export(session: &mut Session, args: &DefaultsArgs, grids: &[Grid]) -> Exit {
    let Some(path) = &args.out else {
        let [grid] = grids else {
            return session.wrong_command_line(ONE_TABLE);
        };
        let csv = String::from_utf8_lossy(&grid.csv()).into_owned();
        session.streams.result(&csv);
        return Exit::Done;
    };
    let ending = path.extension().and_then(|e| e.to_str());
    let bytes = match (ending.map(str::to_lowercase).as_deref(), grids) {
        (Some("csv"), [grid]) => grid.csv(),
        (Some("csv"), _) => return session.wrong_command_line(ONE_TABLE),
        (Some("xlsx"), _) => {
            let (date, _) = session.around.date(None, None);
            match workbook(grids, date) {
                Ok(bytes) => bytes,
                Err(e) => return session.failed(&[Problem::bug(e.to_string())]),
            }
        }
        _ => return session.wrong_command_line(ENDINGS),
    };
    let replacing = if args.force {
        Replacing::Everything
    } else {
        Replacing::Ours
    };
    match put(path, &bytes, replacing) {
        Ok(()) => {
            session.streams.talk(&format!("wrote {}", path.display()));
            Exit::Done
        }
        Err(problem) => session.failed(&[*problem]),
    }
}
