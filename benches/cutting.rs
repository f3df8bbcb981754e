//! How good the cut lists are: whole classes of cutting tasks, made from a fixed seed with the
//! parameters that the literature on cutting stock uses, and a line for each class.
//!
//! ```text
//! cargo run --release --example cutting [part of a class's name]
//! ```
//!
//! "To bound" counts tasks whose cutting costs no more than the bound: they are proven. The gap is what
//! the worst cutting costs beyond its bound, in whole sticks for one length and in percent otherwise.
//! Triplets are made by cutting full sticks in three, so that their optimum is known.
#![allow(
    clippy::print_stdout,
    clippy::float_arithmetic,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::indexing_slicing,
    reason = "a program for people who measure, not for clients"
)]

use std::time::{Duration, Instant};

use loamwright::buying::cutting::{Answer, Effort, Size, Stock, Task, solve};

/// A class: its name, how many tasks, and how one is made.
struct Class {
    name: String,
    tasks: u64,
    make: Box<dyn Fn(&mut Dice) -> Task>,
}

/// Numbers that only look like chance (splitmix64).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number from `low` to `high`, both possible.
    fn from(&mut self, low: i64, high: i64) -> i64 {
        let span = u64::try_from(high - low + 1).unwrap_or(1);
        low + i64::try_from(self.next() % span).unwrap_or(0)
    }
}

fn stock(length: i64, price: i64, most: Option<u64>) -> Stock {
    Stock {
        usable: length,
        whole: vec![length],
        price,
        most,
    }
}

fn task(stocks: Vec<Stock>, lengths: &[i64]) -> Task {
    let sizes = lengths.iter().map(|length| Size {
        length: *length,
        count: 1,
    });
    Task {
        kerf: 0,
        stocks,
        sizes: sizes.collect(),
    }
}

/// Pieces with lengths evenly between two.
fn even(dice: &mut Dice, pieces: usize, low: i64, high: i64) -> Vec<i64> {
    (0..pieces).map(|_| dice.from(low, high)).collect()
}

/// Sticks of 1000 cut in three pieces of 250 to 500.
fn triplets(dice: &mut Dice, pieces: usize) -> Vec<i64> {
    let mut lengths = Vec::with_capacity(pieces);
    while lengths.len() < pieces {
        let first = dice.from(380, 490);
        let second = dice.from(250, (1000 - first) / 2);
        lengths.extend([first, second, 1000 - first - second]);
    }
    lengths
}

fn single() -> Vec<Class> {
    let mut classes = Vec::new();
    let mut add = |name: String, tasks, make: Box<dyn Fn(&mut Dice) -> Task>| {
        classes.push(Class { name, tasks, make });
    };
    for pieces in [120, 250, 500] {
        let make =
            move |dice: &mut Dice| task(vec![stock(150, 1, None)], &even(dice, pieces, 20, 100));
        add(format!("uniform 150, 20-100, {pieces}"), 20, Box::new(make));
    }
    for pieces in [60, 120, 249, 501] {
        let make = move |dice: &mut Dice| task(vec![stock(1000, 1, None)], &triplets(dice, pieces));
        add(format!("triplets, {pieces}"), 20, Box::new(make));
    }
    for pieces in [50, 100, 200, 500] {
        for part in [3, 5, 7, 9] {
            for spread in [20, 50, 90] {
                let make = move |dice: &mut Dice| {
                    let mean = 1000 / part;
                    let (low, high) = (mean * (100 - spread) / 100, mean * (100 + spread) / 100);
                    task(vec![stock(1000, 1, None)], &even(dice, pieces, low, high))
                };
                add(
                    format!("width 1000/{part} +-{spread}%, {pieces}"),
                    10,
                    Box::new(make),
                );
            }
        }
    }
    for pieces in [50, 100, 200, 500] {
        for capacity in [100, 120, 150] {
            for low in [1, 20, 30] {
                let make = move |dice: &mut Dice| {
                    task(
                        vec![stock(capacity, 1, None)],
                        &even(dice, pieces, low, 100),
                    )
                };
                add(
                    format!("range {capacity}, {low}-100, {pieces}"),
                    5,
                    Box::new(make),
                );
            }
        }
    }
    let make = |dice: &mut Dice| {
        task(
            vec![stock(100_000, 1, None)],
            &even(dice, 200, 20_000, 30_000),
        )
    };
    add(
        "hard 100000, 20000-30000, 200".to_owned(),
        10,
        Box::new(make),
    );
    classes
}

/// Sticks of several lengths: price by length, falling by length, or falling with few of each.
fn several() -> Vec<Class> {
    let mut classes = Vec::new();
    for kinds in [3, 5] {
        for pieces in [40, 100, 200] {
            for (name, bend, few) in [
                ("price by length", 0, false),
                ("concave price", 1, false),
                ("concave price, few of each", 1, true),
            ] {
                let make = move |dice: &mut Dice| {
                    let lengths = even(dice, pieces, 20, 300);
                    let total: i64 = lengths.iter().sum();
                    let one = |kind: i64| {
                        let length = 300 + kind * 120;
                        let price = if bend == 0 {
                            length
                        } else {
                            40 + length * 9 / 10 - kind * 10
                        };
                        let most = u64::try_from(total / length / kinds * 2 + 2).ok();
                        stock(length, price, most.filter(|_| few))
                    };
                    task((0..kinds).map(one).collect(), &lengths)
                };
                let name = format!("{kinds} lengths, {name}, {pieces}");
                classes.push(Class {
                    name,
                    tasks: 10,
                    make: Box::new(make),
                });
            }
        }
    }
    classes.push(Class {
        name: "5 lengths to 100000, concave price, 500".to_owned(),
        tasks: 4,
        make: Box::new(|dice: &mut Dice| {
            let one = |kind: i64| {
                let length = 60_000 + kind * 10_000;
                stock(length, 5_000 + length * 9 / 100 - kind * 30, None)
            };
            task((0..5).map(one).collect(), &even(dice, 500, 1_000, 60_000))
        }),
    });
    classes
}

/// Frames of raised beds in inches, kerf an eighth, board lengths of 8 to 16 ft at uneven prices: beds
/// of a dozen usual sizes, and every bed of a size of its own.
fn garden() -> Vec<Class> {
    let usual = |dice: &mut Dice| {
        let long = [48, 60, 72, 96, 120, 144][usize::try_from(dice.from(0, 5)).unwrap_or(0)];
        (
            long,
            [24, 36, 42, 48][usize::try_from(dice.from(0, 3)).unwrap_or(0)],
        )
    };
    let own = |dice: &mut Dice| (dice.from(48, 144), dice.from(24, 60));
    vec![
        garden_of("garden job, 60 beds of usual sizes", usual),
        garden_of("garden job, 60 beds all different", own),
    ]
}

fn garden_of(name: &str, bed: impl Fn(&mut Dice) -> (i64, i64) + 'static) -> Class {
    let inch = 25_400_000;
    let make = move |dice: &mut Dice| {
        let mut sizes = Vec::new();
        for _ in 0..60 {
            let (long, wide) = bed(dice);
            let count = 2 * u64::try_from(dice.from(1, 3)).unwrap_or(1);
            for length in [long * inch, wide * inch] {
                sizes.push(Size { length, count });
            }
        }
        let prices = [(96, 548), (120, 712), (144, 861), (192, 1_190)];
        let one = |(length, price): &(i64, i64)| stock(length * inch, *price, None);
        Task {
            kerf: inch / 8,
            stocks: prices.iter().map(one).collect(),
            sizes,
        }
    };
    Class {
        name: name.to_owned(),
        tasks: 20,
        make: Box::new(make),
    }
}

#[derive(Default)]
struct Tally {
    tasks: u64,
    proven: u64,
    within_one: u64,
    percent: f64,
    sticks: i128,
    sum: Duration,
    worst: Duration,
}

impl Tally {
    fn count(&mut self, task: &Task, answer: &Answer, took: Duration) {
        let price = task
            .stocks
            .iter()
            .map(|stock| i128::from(stock.price))
            .max()
            .unwrap_or(1)
            .max(1);
        let gap = answer.cost - answer.lower_bound;
        self.tasks += 1;
        self.proven += u64::from(answer.is_proven());
        self.within_one += u64::from(gap <= price);
        self.percent = self
            .percent
            .max(gap as f64 * 100.0 / (answer.lower_bound as f64).max(1.0));
        self.sticks = self.sticks.max((gap + price - 1) / price);
        self.sum += took;
        self.worst = self.worst.max(took);
    }

    fn line(&self, name: &str) -> String {
        let mean = self.sum.as_secs_f64() / (self.tasks as f64).max(1.0);
        format!(
            "| {name} | {} | {} | {:.2}% / {} | {:.3} | {:.3} |",
            self.tasks,
            self.proven,
            self.percent,
            self.sticks,
            mean,
            self.worst.as_secs_f64()
        )
    }
}

fn main() {
    let wanted = std::env::args().nth(1).unwrap_or_default();
    println!("| class | tasks | proven least | worst gap: % / sticks | mean s | worst s |");
    println!("|---|---|---|---|---|---|");
    let all = single().into_iter().chain(several()).chain(garden());
    for (number, class) in (0_u64..).zip(all) {
        if !class.name.contains(&wanted) {
            continue;
        }
        let mut tally = Tally::default();
        for index in 0..class.tasks {
            let mut dice = Dice(number * 1_000 + index);
            let task = (class.make)(&mut dice);
            let start = Instant::now();
            if let Some(answer) = solve(&task, Effort::default()) {
                tally.count(&task, &answer, start.elapsed());
            }
        }
        println!("{}", tally.line(&class.name));
    }
}
