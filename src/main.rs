//! The `loamwright` command.

use std::io::{IsTerminal, stderr, stdin, stdout};
use std::process::ExitCode;

use loamwright::cli::args::ColorWhen;
use loamwright::cli::clock::Surroundings;
use loamwright::cli::streams::{Stream, Streams};
use loamwright::cli::{Exit, Process, bug, run};

fn main() -> ExitCode {
    bug::tell_panics();
    bug::guarded(command).into()
}

fn command() -> Exit {
    let around = Surroundings::of_process();
    let color = around.as_ref().map_or(ColorWhen::Auto, |a| a.color);
    let (mut out, mut err) = (stdout().lock(), stderr());
    let [out_size, err_size] = [
        terminal_size::terminal_size_of(&out),
        terminal_size::terminal_size_of(&err),
    ]
    .map(|size| size.map(|(columns, lines)| (columns.0, lines.0)));
    let out_is_terminal = out.is_terminal();
    let err_is_terminal = err.is_terminal();
    run(
        &run::PIPELINE,
        Process {
            args: std::env::args_os().collect(),
            around,
            stdin: &mut stdin().lock(),
            streams: Streams::new(
                Stream::new(&mut out, out_is_terminal).sized(out_size),
                Stream::new(&mut err, err_is_terminal).sized(err_size),
                color,
            ),
        },
    )
}
