//! A bug of ours ends the run with its message and an exit code of its own, and leaves no file behind.

use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook};

use super::Exit;
use crate::read::foreign::catches_panics;

/// Words that stand before the message of a bug.
pub const BUG: &str = "a bug of ours";

/// Makes a panic tell its message in our words, unless it is one that a damaged file causes and the
/// reader tells as such. `eprintln!` would panic again on a closed pipe.
pub fn tell_panics() {
    set_hook(Box::new(|panic| {
        if catches_panics() {
            return;
        }
        let text = format!(
            "error: {BUG}: {panic}\n  hint: outputs are as they were; please report this with the job that shows it\n"
        );
        let _ = std::io::stderr().lock().write_all(text.as_bytes());
    }));
}

/// Does `work`; a panic unwinds it, so that staging folders go, and ends as [`Exit::Bug`].
pub fn guarded(work: impl FnOnce() -> Exit) -> Exit {
    catch_unwind(AssertUnwindSafe(work)).unwrap_or(Exit::Bug)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_ends_as_a_bug_and_drops_what_was_open() {
        struct Open<'a>(&'a mut bool);
        impl Drop for Open<'_> {
            fn drop(&mut self) {
                *self.0 = true;
            }
        }
        let mut is_closed = false;
        let exit = guarded(|| {
            let _open = Open(&mut is_closed);
            panic!("a figure is lost");
        });
        assert_eq!(exit, Exit::Bug);
        assert!(is_closed);
        assert_eq!(guarded(|| Exit::Done), Exit::Done);
    }
}
