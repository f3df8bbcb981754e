//! What may stand on the command line.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;

/// Said when the command line is empty.
pub const FIRST_STEPS: &str = "\
loamwright prices raised garden beds from a workbook or CSV files.

First make a workbook with a sheet named Beds, or a file Beds.csv, with a row
for each bed, and add Prices when you have them:

  Bed,Count,Length (ft),Width (ft),Height (in),Frame,Fill
  North row,3,8,4,18.5,2x10,Topsoil

Then see whether it reads, and price it:

  loamwright check job.xlsx
  loamwright job.xlsx

More: loamwright --help
";

const EXAMPLES: &str = "\
Examples:
  loamwright job.xlsx                     price the job, outputs beside it
  loamwright estimate job/ --out quote    CSV files; outputs in quote
  loamwright check job.xlsx               tell every problem, write nothing
  loamwright --beds b.csv --prices p.csv  two CSV files
  loamwright estimate - < beds.csv        beds from standard input

Exit codes:
  0   done
  1   the input has problems; nothing was written
  2   wrong command line
  70  a bug of ours

Results go to standard output, everything else to standard error.";

const ESTIMATE_EXAMPLES: &str = "\
Examples:
  loamwright estimate job.xlsx
  loamwright estimate job.ods --out quote --date 2026-11-24
  loamwright estimate job.xlsx --json --quiet > estimate.json
  loamwright estimate job-estimate/estimate.xlsx --out revised --hold
  loamwright estimate job.xlsx --watch

Outputs that you changed, or that this program did not write, stay as they are
unless --force is given. A changed estimate.xlsx can be read back as a job: its
suppliers, packs, vehicles and cuts are chosen anew, and the summary says which
of them moved; with --hold they stay, and its own total comes out.";

const CHECK_EXAMPLES: &str = "\
Examples:
  loamwright check job.xlsx
  loamwright check job/ --strict
  loamwright check job.xlsx --json";

/// The command line.
#[derive(Debug, Parser)]
#[command(
    name = "loamwright",
    version,
    about = "From a list of raised garden beds and prices to an estimate that holds",
    after_help = EXAMPLES,
    args_conflicts_with_subcommands = true,
    max_term_width = 80
)]
pub struct Args {
    /// The command; without one, a job is estimated.
    #[command(subcommand)]
    pub command: Option<Command>,
    /// What plain `loamwright JOB` takes.
    #[command(flatten)]
    pub plain: EstimateArgs,
}

/// One command.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Price a job: writes the workbook and the JSON, prints a summary
    #[command(after_help = ESTIMATE_EXAMPLES)]
    Estimate(EstimateArgs),
    /// Tell every problem and caution of a job; writes nothing
    #[command(after_help = CHECK_EXAMPLES)]
    Check(CheckArgs),
    /// Print the JSON schema of estimate.json
    Schema,
}

/// Arguments of `estimate`.
#[derive(Debug, ClapArgs)]
pub struct EstimateArgs {
    /// The job.
    #[command(flatten)]
    pub job: JobArgs,
    /// Folder for the outputs [default: "JOB NAME-estimate" beside the job]
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace outputs that you changed or that this program did not write
    #[arg(long)]
    pub force: bool,
    /// Estimate again whenever the job is saved, and tell what moved
    #[arg(long, conflicts_with = "json")]
    pub watch: bool,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// Arguments of `check`.
#[derive(Debug, ClapArgs)]
pub struct CheckArgs {
    /// The job.
    #[command(flatten)]
    pub job: JobArgs,
    /// How it talks.
    #[command(flatten)]
    pub talk: TalkArgs,
}

/// Where the job is and how it is taken.
#[derive(Debug, ClapArgs)]
pub struct JobArgs {
    /// Workbook, folder of CSV files, or - for beds as CSV on standard input
    #[arg(value_name = "JOB", conflicts_with_all = ["beds", "prices"])]
    pub job: Option<PathBuf>,
    /// CSV file of beds, instead of JOB
    #[arg(long, value_name = "FILE")]
    pub beds: Option<PathBuf>,
    /// CSV file of prices, beside --beds
    #[arg(long, value_name = "FILE", requires = "beds")]
    pub prices: Option<PathBuf>,
    /// Date of the estimate; wins over the Job sheet
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = civil_date)]
    pub date: Option<Date>,
    /// Keep suppliers, packs, vehicles and cuts of the estimate that is read
    #[arg(long)]
    pub hold: bool,
    /// Count cautions (not notices) as errors
    #[arg(long)]
    pub strict: bool,
}

/// How a command talks.
#[derive(Clone, Copy, Debug, ClapArgs)]
pub struct TalkArgs {
    /// Print JSON to standard output instead of text
    #[arg(long)]
    pub json: bool,
    /// Hide everything but errors (and what --json asks for)
    #[arg(long, short)]
    pub quiet: bool,
    /// When to colour headings and warnings; wins over NO_COLOR and
    /// CLICOLOR_FORCE
    #[arg(long, value_name = "WHEN", value_enum, default_value_t)]
    pub color: ColorWhen,
}

/// When to colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum ColorWhen {
    /// On a terminal that knows colours; `NO_COLOR` says never, `CLICOLOR_FORCE` always
    #[default]
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

fn civil_date(text: &str) -> Result<Date, String> {
    let is_plain = text.len() == "2026-11-24".len();
    let parsed = text.parse().ok().filter(|_| is_plain);
    parsed.ok_or_else(|| "write the date as 2026-11-24".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::Exit;
    use clap::CommandFactory;

    #[test]
    fn the_definition_holds_together() {
        Args::command().debug_assert();
    }

    #[test]
    fn the_help_tells_every_exit_code() {
        for exit in Exit::ALL {
            let line = format!("  {:<3} {}", exit.code(), exit.meaning());
            assert!(EXAMPLES.contains(&line), "{line}");
        }
    }

    #[test]
    fn texts_fit_the_screen() {
        for text in [FIRST_STEPS, EXAMPLES, ESTIMATE_EXAMPLES, CHECK_EXAMPLES] {
            for line in text.lines() {
                assert!(line.chars().count() <= 80, "{line}");
            }
        }
    }

    #[test]
    fn a_date_is_written_in_one_way_only() {
        assert_eq!(civil_date("2026-11-24"), Ok(Date::constant(2026, 11, 24)));
        for wrong in [
            "24.11.2026",
            "2026-11-31",
            "2026-11-24T10:00",
            "tomorrow",
            "",
        ] {
            assert!(civil_date(wrong).is_err(), "{wrong}");
        }
    }
}
