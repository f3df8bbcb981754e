//! Saves as they happen, one look after the other, without waiting for any clock.

use std::path::Path;

use jiff::civil::date;

use super::super::args::{ColorWhen, EstimateArgs, JobArgs, TalkArgs};
use super::super::clock::Surroundings;
use super::super::run::PIPELINE;
use super::super::streams::{Stream, Streams};
use super::*;

/// Topsoil at a price a yard, and tubs.
fn prices(yard: &str) -> String {
    format!(
        "Supplier,Material,Pack,Holds,Price,Step\nYard,Topsoil,yard,1 yd3,{yard},1\nYard,Stock tank,each,1,100,1\n"
    )
}

fn put(path: &Path, text: &str) {
    let mut file = std::fs::File::create(path).unwrap();
    std::io::Write::write_all(&mut file, text.as_bytes()).unwrap();
}

struct Job {
    root: tempfile::TempDir,
}

impl Job {
    fn new() -> Self {
        let job = Self {
            root: tempfile::tempdir().unwrap(),
        };
        std::fs::create_dir(job.folder()).unwrap();
        job.save(
            "Beds.csv",
            "Bed,Count,Size,Frame,Fill\nA,2,4x8x18 in,Tub,Topsoil\n",
        );
        job.save(
            "Frames.csv",
            "Frame,Frame kind,Material\nTub,ready-made,Stock tank\n",
        );
        job.save("Workers.csv", "Worker,Pay rate,Burden %\nCrew,0,0%\n");
        job.save("Prices.csv", &prices("40"));
        job
    }

    fn folder(&self) -> PathBuf {
        self.root.path().join("job")
    }

    fn save(&self, name: &str, text: &str) {
        put(&self.folder().join(name), text);
    }

    fn look(&self) -> Look {
        look(&Source::Path(self.folder()))
    }

    fn args(&self) -> EstimateArgs {
        EstimateArgs {
            job: JobArgs {
                job: Some(self.folder()),
                beds: None,
                prices: None,
                date: None,
                hold: false,
                strict: false,
            },
            out: None,
            partial: false,
            force: false,
            only: Vec::new(),
            letterhead: None,
            watch: true,
            talk: TalkArgs {
                json: false,
                quiet: false,
                all: false,
                color: ColorWhen::Never,
            },
        }
    }

    /// Watches while these things happen, each followed by so many looks that it has come to rest;
    /// what was printed, and what was said.
    fn watched(&self, happenings: &[&dyn Fn()]) -> (String, String) {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let mut session = Session {
            pipeline: &PIPELINE,
            around: Surroundings {
                today: date(2026, 11, 24),
                epoch: None,
                color: ColorWhen::Never,
            },
            stdin: &mut std::io::empty(),
            streams: Streams::new(
                Stream::new(&mut out, false),
                Stream::new(&mut err, false),
                ColorWhen::Never,
            ),
        };
        let mut step = 0;
        let looks = happenings.len() * 4;
        follow(&mut session, &self.args(), self.look(), &mut || {
            if step >= looks {
                return None;
            }
            if step % 4 == 0 {
                happenings[step / 4]();
            }
            step += 1;
            Some(self.look())
        });
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        (text(out), text(err))
    }
}

#[test]
fn a_save_tells_what_moved() {
    let job = Job::new();
    let (out, _) = job.watched(&[&|| job.save("Prices.csv", &prices("45.50"))]);
    // Five yards of soil for both tubs, each 5.50 dearer: 5 x 5.50 = 27.50.
    let again = out.split("Written to").nth(1).unwrap();
    let expected = "  Topsoil, yard from Yard: 5 yards, 200.00 -> 5 yards, 227.50\n";
    assert!(again.contains(expected), "{again}");
    let total = again.lines().find(|l| l.starts_with("  Price  ")).unwrap();
    assert!(total.ends_with("400.00 -> 427.50  +27.50"), "{total}");
}

#[test]
fn a_broken_save_keeps_the_last_good_price_and_the_next_good_one_is_compared_with_it() {
    let job = Job::new();
    let (out, err) = job.watched(&[&|| job.save("Prices.csv", &prices("forty")), &|| {
        job.save("Prices.csv", &prices("40"));
    }]);
    assert!(err.contains("which holds \"forty\""), "{err}");
    assert!(err.contains("The last good price stays: "), "{err}");
    assert!(out.contains("Nothing moved; the price is "), "{out}");
}

#[test]
fn a_save_in_two_steps_counts_once() {
    let job = Job::new();
    let prices_file = job.folder().join("Prices.csv");
    let aside = job.folder().join("Prices.csv.tmp");
    let (out, err) = job.watched(&[
        // Another program locks, writes aside, removes, renames, and unlocks.
        &|| job.save(".~lock.Prices.csv#", "x"),
        &|| put(&aside, &prices("50")),
        &|| std::fs::rename(&aside, &prices_file).unwrap(),
        &|| std::fs::remove_file(job.folder().join(".~lock.Prices.csv#")).unwrap(),
    ]);
    assert_eq!(
        out.matches("before, now, difference").count(),
        1,
        "{out}{err}"
    );
    assert!(!out.contains("Nothing moved"), "{out}");
}

#[test]
fn its_own_outputs_do_not_wake_it() {
    let job = Job::new();
    let mut args = job.args();
    args.out = Some(job.folder().join("out"));
    let before = job.look();
    assert!(before.len() == 4, "{before:?}");
    std::fs::create_dir(job.folder().join("out")).unwrap();
    put(&job.folder().join("out/estimate.json"), "{}");
    assert_eq!(job.look(), before);
    let (out, _) = job.watched(&[&|| {}, &|| {}]);
    assert!(
        !out.contains("Nothing moved") && !out.contains("difference"),
        "{out}"
    );
}

/// A look at one file of this length.
fn of(length: u64) -> Look {
    Look::from([(PathBuf::from("job.xlsx"), (length, None))])
}

#[test]
fn a_change_counts_once_it_has_come_to_rest() {
    let mut settling = Settling::from(of(10));
    let seen = [10, 10, 10, 4, 7, 9, 9, 9, 9, 9];
    let told: Vec<bool> = seen.map(|n| settling.settles(of(n))).to_vec();
    // 4 and 7 are halves of 9; 9 is due at the second look that is like the one before.
    let at: Vec<usize> = (0..told.len()).filter(|i| told[*i]).collect();
    assert_eq!(at, [7]);
}

#[test]
fn a_file_that_is_gone_for_a_moment_is_waited_for() {
    let mut settling = Settling::from(of(10));
    for _ in 0..9 {
        assert!(!settling.settles(Look::new()));
    }
    assert!(!settling.settles(of(10)));
    // It came back as it was.
    assert!((0..5).all(|_| !settling.settles(of(10))));
}
