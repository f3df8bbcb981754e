//! Calls into the foreign library that reads workbooks. Hostile files make it panic in places, which
//! is no more than a damaged file to us.

use std::cell::Cell;
use std::panic::{AssertUnwindSafe, catch_unwind};

thread_local! {
    static INSIDE: Cell<bool> = const { Cell::new(false) };
}

/// Whether this thread is in a call whose panic is caught and told as a damaged file. A panic hook
/// says nothing then, since nothing is wrong with this program.
pub fn catches_panics() -> bool {
    INSIDE.with(Cell::get)
}

/// Does `work`; `None` when it panics.
pub(super) fn caught<T>(work: impl FnOnce() -> T) -> Option<T> {
    let before = INSIDE.replace(true);
    let done = catch_unwind(AssertUnwindSafe(work)).ok();
    INSIDE.set(before);
    done
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_is_known_to_be_caught_only_inside() {
        assert!(!catches_panics());
        assert_eq!(caught(catches_panics), Some(true));
        assert!(!catches_panics());
        let numbers: Vec<u8> = Vec::new();
        let lost = caught(|| {
            assert!(catches_panics());
            numbers[0]
        });
        assert_eq!(lost, None);
        assert!(!catches_panics());
    }
}
