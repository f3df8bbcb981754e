//! The `loamwright` command.

use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::ExitCode;

use loamwright::cli::clock::Surroundings;
use loamwright::cli::streams::{Stream, Streams};
use loamwright::cli::telling::Screen;
use loamwright::cli::{Exit, Process, bug, run};

fn main() -> ExitCode {
    bug::tell_panics();
    bug::guarded(command).into()
}

fn command() -> Exit {
    let around = Surroundings::of_process();
    let plain = around.as_ref().is_ok_and(|a| a.plain);
    let (mut out, mut err) = (stdout().lock(), stderr());
    let out_is_terminal = out.is_terminal();
    let err_is_terminal = err.is_terminal();
    run(
        &run::PIPELINE,
        Process {
            args: std::env::args_os().collect(),
            around,
            stdin: &mut stdin().lock(),
            streams: Streams::new(
                Stream::new(&mut out, out_is_terminal),
                Stream::new(&mut err, err_is_terminal),
                plain,
            )
            .on_screen(screen()),
        },
    )
}

/// The terminal's size, where it tells it.
fn screen() -> Screen {
    terminal_size::terminal_size().map_or(Screen::USUAL, |(width, height)| Screen {
        columns: usize::from(width.0),
        lines: usize::from(height.0),
    })
}
