//! `loamwright manual`: manual pages from the definition that the command line is parsed by.
//!
//! The frame of a page comes from `clap_mangen`. The texts after the help keep their lines here,
//! since an example that flows into the next one cannot be copied.

use std::io;
use std::path::Path;

use clap::{Command, CommandFactory};
use clap_mangen::Man;
use clap_mangen::roff::{Roff, bold, roman};

use super::Exit;
use super::args::{Args, ManualArgs};
use super::run::Session;
use crate::problem::Problem;
use crate::write::single::put;
use crate::write::stage::Replacing;

/// Manual section of programs that users run.
const SECTION: &str = "1";
/// Stands at the top of every page.
const TITLE: &str = "Raised garden bed estimates";
/// What the program looks at besides its command line (see `clock`).
const ENVIRONMENT: &str = "\
Environment:
NO_COLOR, or TERM set to dumb, keeps colours away.

SOURCE_DATE_EPOCH, in seconds since 1970, is the date of an estimate when
neither --date nor the Job sheet gives one.";

/// One manual page.
struct ManPage {
    /// `loamwright-check`
    name: String,
    /// The page as roff.
    text: String,
}

pub(super) fn manual(session: &mut Session, args: &ManualArgs) -> Exit {
    let pages = match pages() {
        Ok(pages) => pages,
        Err(e) => {
            let bug = Problem::bug(format!("the manual cannot be made: {e}"));
            return session.failed(&[bug]);
        }
    };
    let command = args.command.as_deref();
    if command.is_some_and(|c| pages.iter().all(|page| page.name != page_name(Some(c)))) {
        let wanted = page_name(command);
        return session.wrong_command_line(&format!("there is no manual page {wanted}"));
    }
    if let Some(folder) = &args.out {
        return file(session, &pages, command, folder);
    }
    let wanted = page_name(command);
    for page in pages.iter().filter(|page| page.name == wanted) {
        session.streams.result(&page.text);
    }
    Exit::Done
}

/// Writes the page of a command, or all pages, into a folder.
fn file(session: &mut Session, pages: &[ManPage], command: Option<&str>, folder: &Path) -> Exit {
    let is_asked = |page: &&ManPage| command.is_none() || page.name == page_name(command);
    let mut told = Vec::new();
    for page in pages.iter().filter(is_asked) {
        let path = folder.join(format!("{}.{SECTION}", page.name));
        // Pages are made anew with each version and are nobody's work.
        match put(&path, page.text.as_bytes(), Replacing::Everything) {
            Ok(()) => session.streams.talk(&format!("wrote {}", path.display())),
            Err(problem) => told.push(*problem),
        }
    }
    session.failed(&told)
}

/// The page of a command; that of the whole program without one.
fn page_name(command: Option<&str>) -> String {
    let program = Args::command().get_name().to_owned();
    command.map_or(program.clone(), |command| format!("{program}-{command}"))
}

/// The page of the program, then one for each command.
fn pages() -> io::Result<Vec<ManPage>> {
    let mut program = Args::command()
        .disable_help_subcommand(true)
        .subcommand_help_heading("COMMANDS");
    program.build();
    let commands = program.get_subcommands().cloned();
    let all = std::iter::once(program.clone()).chain(commands);
    all.map(|command| page(&command, &program)).collect()
}

fn page(command: &Command, program: &Command) -> io::Result<ManPage> {
    let name = display(command);
    let man = Man::new(command.clone());
    let mut bytes = Vec::new();
    top(&name, program).to_writer(&mut bytes)?;
    man.render_name_section(&mut bytes)?;
    synopsis(command).to_writer(&mut bytes)?;
    if command.get_long_about().is_some() {
        man.render_description_section(&mut bytes)?;
    }
    if command.has_subcommands() {
        man.render_subcommands_section(&mut bytes)?;
    }
    man.render_options_section(&mut bytes)?;
    let mut rest = Roff::new();
    if let Some(text) = command.get_after_help() {
        sections(&mut rest, &text.to_string());
    }
    if command.has_subcommands() {
        sections(&mut rest, ENVIRONMENT);
    }
    see_also(&mut rest, command, program);
    rest.to_writer(&mut bytes)?;
    Ok(ManPage {
        name,
        text: String::from_utf8_lossy(&bytes).into_owned(),
    })
}

/// The line at the head and foot. Its date stays open, so that the same version gives the same bytes.
fn top(name: &str, program: &Command) -> Roff {
    let version = program.get_version().unwrap_or_default();
    let version = format!("{} {version}", program.get_name());
    let mut page = Roff::new();
    page.control("TH", [name, SECTION, "\u{a0}", &version, TITLE]);
    page
}

/// The forms of the command, each on a line; its options have a section of their own.
fn synopsis(command: &Command) -> Roff {
    let usage = command.clone().render_usage().to_string();
    let mut page = Roff::new();
    page.control("SH", ["SYNOPSIS"]);
    for (number, form) in usage.lines().enumerate() {
        if number > 0 {
            page.control("br", []);
        }
        let form = form.trim_start_matches("Usage:").trim();
        page.text([bold(form)]);
    }
    page
}

fn display(command: &Command) -> String {
    let name = command.get_display_name();
    name.unwrap_or_else(|| command.get_name()).to_owned()
}

/// A line that ends with a colon heads a section, indented lines keep their breaks, others flow.
fn sections(page: &mut Roff, text: &str) {
    let mut is_kept = false;
    for line in text.lines() {
        let keeps = line.starts_with("  ");
        if keeps != is_kept {
            page.control(if keeps { "nf" } else { "fi" }, []);
            is_kept = keeps;
        }
        match line.strip_suffix(':') {
            Some(title) if !keeps => {
                page.control("SH", [title.to_uppercase().as_str()]);
            }
            _ if line.is_empty() => {
                page.control("PP", []);
            }
            _ => {
                page.text([roman(line.strip_prefix("  ").unwrap_or(line))]);
            }
        }
    }
    if is_kept {
        page.control("fi", []);
    }
}

fn see_also(page: &mut Roff, command: &Command, program: &Command) {
    let others: Vec<String> = std::iter::once(program)
        .chain(program.get_subcommands())
        .map(display)
        .filter(|name| *name != display(command))
        .map(|name| format!("{name}({SECTION})"))
        .collect();
    page.control("SH", ["SEE ALSO"]);
    page.text([roman(others.join(", "))]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_a_page_for_the_program_and_one_for_each_command() {
        let names: Vec<String> = pages().unwrap().into_iter().map(|p| p.name).collect();
        let commands = Args::command();
        let commands = commands.get_subcommands().map(Command::get_name);
        let expected: Vec<String> = std::iter::once(page_name(None))
            .chain(commands.map(|c| page_name(Some(c))))
            .collect();
        assert_eq!(names, expected);
    }

    #[test]
    fn the_first_page_names_every_command_and_every_exit_code() {
        let page = &pages().unwrap()[0].text;
        for command in Args::command().get_subcommands() {
            let name = command.get_name();
            assert!(page.contains(&format!("loamwright\\-{name}(1)")), "{name}");
        }
        for exit in Exit::ALL {
            assert!(page.contains(exit.meaning()), "{}", exit.meaning());
        }
    }

    #[test]
    fn examples_keep_their_lines() {
        let mut page = Roff::new();
        sections(&mut page, "Examples:\n  one\n  two\n\nMore is said\nhere.");
        let text = page.to_roff();
        let expected = ".SH EXAMPLES\n.nf\none\ntwo\n.fi\n.PP\nMore is said\nhere.\n";
        assert_eq!(text, expected);
    }
}
