//! How much work a task may take, counted in steps so that every machine stops at the same place.

/// How hard to try, in elementary steps (about a thousand million a second).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Steps for the whole task.
    pub steps: i64,
    /// Dives into the linear program at most.
    pub dives: u32,
}

impl Default for Effort {
    fn default() -> Self {
        Self {
            steps: 3_000_000_000,
            dives: 60,
        }
    }
}

/// Steps that are left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Work {
    left: i64,
}

impl Work {
    pub(super) fn of(steps: i64) -> Self {
        Self { left: steps }
    }

    /// Takes steps away.
    pub(super) fn spend(&mut self, steps: i64) {
        self.left = self.left.saturating_sub(steps);
    }

    /// Whether nothing is left.
    pub(super) fn is_over(self) -> bool {
        self.left <= 0
    }

    /// A part of what is left, `share` in a hundred, to be spent apart.
    pub(super) fn part(self, share: i64) -> Self {
        Self::of(self.left / 100 * share)
    }

    /// Steps that are left.
    pub(super) fn left(self) -> i64 {
        self.left
    }
}
