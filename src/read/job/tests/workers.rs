//! Who does what nobody is named for.

use super::{job, told};
use crate::problem::Severity;

#[test]
fn the_usual_worker_stands_first_whatever_the_order_of_rows() {
    let beds = (
        "Beds",
        "Bed,Size,Frame,Fill\nA1,8 ft x 4 ft x 12 in,2x10,Topsoil\n",
    );
    let first = |settings: &str, workers: &str| {
        let workers = format!("Worker,Pay rate,Paid or volunteer\n{workers}");
        let job = job(&[beds, ("Workers", &workers), ("Job", settings)]);
        job.workers[0].name.to_string()
    };
    let plain = "Setting,Value\nUnits,US\n";
    let named = "Setting,Value\nUnits,US\nUsual worker,mason\n";
    // Without a word, the first paid worker by name: not the first row, and never a volunteer.
    let (a, b) = (
        "Mason,31,paid\nCrew,24,paid\n",
        "Crew,24,paid\nMason,31,paid\n",
    );
    let helpers = "A friend,,volunteer\nCrew,24,paid\n";
    assert_eq!(first(plain, a), "Crew");
    assert_eq!(first(plain, b), "Crew");
    assert_eq!(first(plain, helpers), "Crew");
    assert_eq!(first(named, a), "Mason");
    assert_eq!(first(named, b), "Mason");
}

#[test]
fn an_unknown_usual_worker_is_asked_about() {
    let told = told(
        &[
            (
                "Beds",
                "Bed,Size,Frame,Fill\nA1,8 ft x 4 ft x 12 in,2x10,Topsoil\n",
            ),
            (
                "Workers",
                "Worker,Pay rate,Paid or volunteer\nMason,31,paid\n",
            ),
            ("Job", "Setting,Value\nUnits,US\nUsual worker,Masson\n"),
        ],
        Severity::Error,
    );
    let wanted = "error: Usual worker is not among Workers\n  at Job.csv:3:2, which holds \"Masson\"\n  \
                  hint: did you mean \"Mason\"? Otherwise add a row for them to Workers";
    assert!(told.iter().any(|t| t == wanted), "{told:#?}");
}
