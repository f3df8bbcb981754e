//! `loamwright completions`: what a shell completes after the name of the program.

use clap::CommandFactory;
use clap_complete::{Shell, generate};

use super::Exit;
use super::args::Args;
use super::run::Session;

/// The name that is completed.
const NAME: &str = "loamwright";

pub(super) fn completions(session: &mut Session, shell: Shell) -> Exit {
    session.streams.result(&script(shell));
    Exit::Done
}

/// The script for one shell, from the definition that the command line is parsed by.
fn script(shell: Shell) -> String {
    let mut bytes = Vec::new();
    generate(shell, &mut Args::command(), NAME, &mut bytes);
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::ValueEnum;

    #[test]
    fn every_shell_completes_every_command_and_its_options() {
        for shell in Shell::value_variants() {
            let script = script(*shell);
            for command in Args::command().get_subcommands() {
                assert!(script.contains(command.get_name()), "{shell}: {command}");
                for option in command.get_arguments().filter_map(clap::Arg::get_long) {
                    assert!(script.contains(option), "{shell}: {command} --{option}");
                }
            }
        }
    }
}
