//! Work done side by side, as much at a time as the machine has cores, in the order in which it was given.

use std::thread;

/// What comes of each piece of work; `None` where it was lost.
pub(super) fn beside_each_other<T: Send, R: Send>(
    pieces: Vec<T>,
    work: &(impl Fn(T) -> R + Sync),
) -> Vec<Option<R>> {
    let workers = thread::available_parallelism().map_or(1, usize::from);
    let mut waiting = pieces.into_iter();
    let mut done = Vec::new();
    loop {
        let batch: Vec<T> = waiting.by_ref().take(workers).collect();
        if batch.is_empty() {
            return done;
        }
        thread::scope(|scope| {
            let start = |piece| scope.spawn(move || work(piece));
            let running: Vec<_> = batch.into_iter().map(start).collect();
            done.extend(running.into_iter().map(|run| run.join().ok()));
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_stand_in_the_order_of_the_work() {
        let squares = beside_each_other((0..20).collect(), &|n: u32| n * n);
        let expected: Vec<Option<u32>> = (0..20).map(|n| Some(n * n)).collect();
        assert_eq!(squares, expected);
    }
}
