//! `loamwright start`: writes a job file that is filled in with an example to type over.

use std::path::Path;

use super::Exit;
use super::args::{StartArgs, StartFor, StartUnits};
use super::run::Session;
use crate::problem::Problem;
use crate::read::library;
use crate::units::System;
use crate::write::fresh;
use crate::write::starter::{Purpose, Starter, csv_files, workbook};

pub(super) fn start(session: &mut Session, args: &StartArgs) -> Exit {
    if let Some(words) = unfit(&args.new, args.csv) {
        return session.wrong_command_line(&words);
    }
    let stem = if args.csv {
        args.new.file_name()
    } else {
        args.new.file_stem()
    };
    let stem = stem.unwrap_or_default().to_string_lossy();
    let shown = args.new.display().to_string();
    let (today, _) = session.around.date(None, None);
    let name = args.new.file_name().unwrap_or_default().to_string_lossy();
    let starter = Starter {
        purpose: match args.purpose {
            StartFor::Quote => Purpose::Quote,
            StartFor::Grant => Purpose::Grant,
            StartFor::Suppliers => Purpose::Suppliers,
        },
        system: match args.units {
            StartUnits::Us => System::UsCustomary,
            StartUnits::Metric => System::Metric,
        },
        job: &stem,
        today,
        commands: &commands(&name),
    };
    match write(&starter, args) {
        Ok(()) => {
            let text = told(&shown, args.csv);
            session.streams.readable_result(&text);
            Exit::Done
        }
        Err(problem) => session.failed(&[*problem]),
    }
}

fn write(starter: &Starter<'_>, args: &StartArgs) -> Result<(), Box<Problem>> {
    if args.csv {
        return fresh::folder(&args.new, &csv_files(starter));
    }
    let bytes = workbook(starter, &library::builtin())
        .map_err(|e| Box::new(Problem::bug(e.to_string())))?;
    fresh::file(&args.new, &bytes)
}

/// Why a starter cannot be called so, in words.
fn unfit(new: &Path, csv: bool) -> Option<String> {
    let shown = new.display();
    let ending = new.extension().map(|e| e.to_string_lossy().to_lowercase());
    let ending = ending.as_deref().unwrap_or_default();
    if new.file_name().is_none() {
        return Some(format!(
            "\"{shown}\" is no name for a new file; write garden.xlsx"
        ));
    }
    if csv {
        let is_file = matches!(ending, "csv" | "xlsx" | "xlsm" | "xlsb" | "xls" | "ods");
        let words = format!("--csv makes a folder of CSV files; write a name without .{ending}");
        return is_file.then_some(words);
    }
    let with_xlsx = new.with_extension("xlsx");
    let with_xlsx = with_xlsx.display();
    match ending {
        "xlsx" => None,
        "" => Some(format!(
            "write the name with its ending, {shown}.xlsx; or add --csv for a folder of CSV files"
        )),
        "csv" => Some(format!(
            "a starter has several sheets; write {with_xlsx}, or add --csv and the name of a folder"
        )),
        "xls" | "ods" | "xlsm" | "xlsb" => Some(format!(
            "a starter is written as .xlsx; write {with_xlsx}, and save it as .{ending} from your spreadsheet program, which is read as well"
        )),
        _ => Some(format!(
            "a starter is an .xlsx workbook; write {with_xlsx}, or add --csv for a folder of CSV files"
        )),
    }
}

/// What to type next for a job of this name.
fn commands(name: &str) -> [String; 2] {
    let is_plain = |c: char| c.is_alphanumeric() || "-_./\\:".contains(c);
    let job = if name.chars().all(is_plain) && !name.starts_with('-') {
        name.to_owned()
    } else {
        format!("\"{name}\"")
    };
    [
        format!("loamwright check {job}"),
        format!("loamwright estimate {job}"),
    ]
}

fn told(shown: &str, csv: bool) -> String {
    let [check, estimate] = commands(shown);
    let how = if csv {
        "It is a folder of CSV files with a made-up example: begin with Job.csv and\nBeds.csv, and type your own job over it."
    } else {
        "It holds a made-up example: open it, begin at the sheet \"Start here\", and type\nyour own job over it."
    };
    format!(
        "Wrote {shown}\n{how} Then see whether it reads, and price it:\n\n  {check}\n  {estimate}\n"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_unfit(new: &str, csv: bool, part: &str) {
        let words = unfit(Path::new(new), csv).unwrap_or_default();
        assert!(words.contains(part), "{new}: {words}");
    }

    #[test]
    fn a_name_that_cannot_be_is_met_with_what_to_write() {
        check_unfit("garden", false, "garden.xlsx");
        check_unfit("garden.ods", false, "garden.xlsx");
        check_unfit("garden.xls", false, "save it as .xls");
        check_unfit("garden.csv", false, "--csv");
        check_unfit("garden.pdf", false, "garden.xlsx");
        check_unfit("garden.xlsx", true, "without .xlsx");
        check_unfit("..", false, "garden.xlsx");
        assert_eq!(unfit(Path::new("a/Garden.XLSX"), false), None);
        assert_eq!(unfit(Path::new("garden"), true), None);
    }

    #[test]
    fn a_name_with_blanks_is_quoted_for_the_shell() {
        let [check, _] = commands("my garden.xlsx");
        assert_eq!(check, "loamwright check \"my garden.xlsx\"");
        let [_, estimate] = commands("jobs/garden.xlsx");
        assert_eq!(estimate, "loamwright estimate jobs/garden.xlsx");
    }
}
