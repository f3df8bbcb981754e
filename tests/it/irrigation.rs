//! Drip lines: how much line, how many emitters, zones against the supply, parts through orders and hours.

use loamwright::price::Estimate;
use loamwright::takeoff::Part;
use loamwright::takeoff::drip::Watering;
use loamwright::units::{Decimal, Flow, Length, Money};

use crate::pipeline::{price, priced};
use crate::tables::Tables;

const PARTS: &str = "\
Supplier,Material,Pack,Holds,Price
Yard,2x10 cedar,board,8 ft,20.00
Yard,Topsoil,yard,1 yd3,40.00
Drip desk,Dripline,roll,100 ft,28.00
Drip desk,Supply tube,roll,100 ft,19.00
Drip desk,Drip fitting,each,,0.60
Drip desk,End plug,each,,0.45
Drip desk,Hold-down stake,each,,0.20
Drip desk,Shut-off valve,each,,2.50
Drip desk,Backflow preventer,each,,9.00
Drip desk,Drip filter,each,,14.00
Drip desk,Pressure regulator,each,,11.00
Drip desk,Water timer,each,,38.00
Drip desk,Hose adapter,each,,2.00
Drip desk,Flush valve,each,,3.00
";

/// Two beds of 8 x 4 ft, of 1 1/2 in boards in two courses.
fn job(irrigation: &str) -> Tables {
    let mut tables = Tables::default();
    tables.put(
        "Beds",
        "Bed,Count,Length (ft),Width (ft),Courses,Frame,Fill\nA,2,8,4,2,2x10 cedar,Topsoil\n",
    );
    tables.put("Prices", PARTS);
    tables.put("Workers", "Worker,Pay rate\nCrew,20\n");
    tables.put(
        "Irrigation",
        &format!("Bed,Line spacing,Emitter spacing,Emitter flow,Supply flow,Zone by,Main length\n{irrigation}\n"),
    );
    tables
}

fn estimate(irrigation: &str) -> Estimate {
    priced(&job(irrigation).folder().path)
}

fn watering(estimate: &Estimate) -> &Watering {
    estimate.takeoffs[0].watering.as_ref().unwrap()
}

fn ft(text: &str) -> Length {
    Length::feet(text.parse().unwrap())
}

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

const USUAL: &str = "all,12 in,12 in,0.5 gal/h,2 gal/min,,50 ft";

#[test]
fn four_lines_water_a_bed_of_four_by_eight() {
    let estimate = estimate(USUAL);
    let found = watering(&estimate);
    // Inside 7.75 x 3.75 ft: 3.75 spacings are 4 lines of 7.75 ft, 31 ft; 7 emitters on each, 28, at 0.5: 14 gal/h.
    assert_eq!((found.lines, found.length.tidy()), (4, ft("31").tidy()));
    assert_eq!(found.emitters, 28);
    assert_eq!(found.flow.tidy(), Flow::gallons_per_hour(d("14")).tidy());
    // 29.0625 ft2 x 1 in = 2.4219 ft3 = 18.117 gal; / 0.9 = 20.13 gal; / 14 gal/h = 1.438 h.
    assert_eq!(found.hours_a_week.in_hours().round_dp(3), d("1.438"));
    let note = estimate.takeoffs[0]
        .crew_notes
        .iter()
        .find(|n| n.contains("drip"))
        .unwrap();
    assert!(
        note.contains("28 emitters, 14 gal/h; 86 min a week give 1 in"),
        "{note}"
    );
}

#[test]
fn parts_are_bought_worked_and_priced() {
    let estimate = estimate(USUAL);
    let mut bought: Vec<(&str, Decimal, Money)> = estimate
        .bought
        .lines
        .iter()
        .map(|line| {
            (
                estimate.job.material_name(line.material),
                line.quantity,
                line.cost,
            )
        })
        .filter(|(name, ..)| !matches!(*name, "2x10 cedar" | "Topsoil"))
        .collect();
    bought.sort();
    let line = |name, quantity: &str, cost: &str| (name, d(quantity), Money::of(d(cost)));
    // For both beds: line 62 ft x 1.07 = 66.34; tube 2 x (3 + 18.5 in + 2 + 25 ft) x 1.07 = 67.5; fittings
    // 2 x (4 + 3) x 1.05 = 14.7; plugs 8 x 1.05 = 8.4; stakes 2 x (31 / 3.5 up = 9) x 1.05 = 18.9.
    assert_eq!(
        bought,
        [
            line("Backflow preventer", "1", "9.00"),
            line("Drip filter", "1", "14.00"),
            line("Drip fitting", "15", "9.00"),
            line("Dripline", "1", "28.00"),
            line("End plug", "9", "4.05"),
            line("Flush valve", "1", "3.00"),
            line("Hold-down stake", "19", "3.80"),
            line("Hose adapter", "1", "2.00"),
            line("Pressure regulator", "1", "11.00"),
            line("Shut-off valve", "2", "5.00"),
            line("Supply tube", "1", "19.00"),
            line("Water timer", "1", "38.00"),
        ]
    );
    let hours = |name: &str| {
        let line = estimate
            .labour
            .lines
            .iter()
            .find(|l| &*l.name == name)
            .unwrap();
        line.hours.in_hours().round_dp(4).normalize()
    };
    // 62 ft x 0.01 h; 63.08 ft of tube x 0.012 h; 2 x (7 + 4 + 1) fittings x 0.05 h.
    assert_eq!(hours("Lay and stake drip line"), d("0.62"));
    assert_eq!(hours("Lay supply tube"), d("0.757"));
    assert_eq!(hours("Set drip fittings and valves"), d("1.2"));
    assert!(
        !estimate
            .not_priced
            .iter()
            .any(|part| part.contains("irrigation"))
    );
    let backflow = estimate.problems.iter().filter_map(|p| p.caution.as_ref());
    assert!(
        backflow
            .into_iter()
            .any(|concern| concern.key == "backflow")
    );
}

#[test]
fn zones_take_three_quarters_of_the_measured_flow() {
    // Two beds take 28 gal/h. Of 30 gal/h a zone takes 22.5: 1.24 zones are 2. Of 18 it takes 13.5, less than a bed.
    let two = estimate("all,12 in,12 in,0.5 gal/h,30 gal/h,,");
    assert_eq!(watering(&two).zones, 2);
    let adapters = two.bought.lines.iter();
    let mut adapters = adapters.filter(|l| two.job.material_name(l.material) == "Hose adapter");
    assert_eq!(adapters.next().unwrap().quantity, Decimal::TWO);
    let starved = estimate("all,12 in,12 in,0.5 gal/h,18 gal/h,,");
    let told = starved.problems.iter().map(|p| &*p.sentence);
    assert!(told.into_iter().any(|s| {
        s == "one bed takes 14 gal/h and a zone may take 13.5 gal/h: the supply does not feed it"
    }));
    assert_eq!(watering(&estimate("all,,,,,bed,")).zones, 2);
    assert_eq!(watering(&estimate("all,,,,,site,")).zones, 1);
    let unknown = estimate("all,,,,,,");
    assert!(
        unknown
            .problems
            .iter()
            .any(|p| p.sentence.starts_with("Supply flow is not measured"))
    );
}

#[test]
fn twice_as_many_beds_take_twice_as_much_line_and_the_same_head() {
    let order = |count: u32| {
        let mut tables = job("all,12 in,12 in,0.5 gal/h,4 gal/min,,");
        tables.set("Beds", &[("Bed", "A")], "Count", &count.to_string());
        let estimate = priced(&tables.folder().path);
        let sum = |name: &str| -> Decimal {
            let lines = estimate.bought.lines.iter();
            let own = lines.filter(|l| estimate.job.material_name(l.material) == name);
            own.map(|l| l.need.base()).sum::<Decimal>().round_dp(6)
        };
        (sum("Dripline"), sum("Drip fitting"), sum("Water timer"))
    };
    let (three, six) = (order(3), order(6));
    assert_eq!(
        (three.0 * Decimal::TWO, three.1 * Decimal::TWO),
        (six.0, six.1)
    );
    assert_eq!((three.2, six.2), (Decimal::ONE, Decimal::ONE));
}

#[test]
fn a_row_of_its_own_wins_and_the_other_beds_take_that_for_all() {
    let mut tables =
        job("all,12 in,12 in,0.5 gal/h,4 gal/min,,\nB,18 in,12 in,0.9 gal/h,4 gal/min,,");
    tables.put(
        "Beds",
        "Bed,Length (ft),Width (ft),Courses,Frame,Fill\nA,8,4,2,2x10 cedar,Topsoil\nB,8,4,2,2x10 cedar,Topsoil\n",
    );
    let estimate = priced(&tables.folder().path);
    let lines = |n: usize| estimate.takeoffs[n].watering.as_ref().unwrap().lines;
    // 3.75 / 1 is 4 lines, 3.75 / 1.5 = 2.5 is 2 (half goes to the even one).
    assert_eq!((lines(0), lines(1)), (4, 2));
    let needs = &estimate.takeoffs[1].needs;
    assert!(needs.iter().any(|need| need.part == Part::Watering));
}

#[test]
fn bad_cells_are_named() {
    for (row, sentence) in [
        ("C,12 in,,,,,", "Bed is not among Beds"),
        (
            "all,0 in,,,,,",
            "Line spacing must be an inch or 25 mm at the least",
        ),
        ("all,,,0 gal/h,,,", "Emitter flow must be more than zero"),
        ("all,,,5,,,", "Emitter flow needs a unit"),
        ("all,,,,,moon,", "Zone by"),
        ("all,,,,,,\nall,,,,,,", "Bed is watered by two rows"),
    ] {
        let problems = price(&job(row).folder().path, None).unwrap_err();
        let told: Vec<&str> = problems.iter().map(|p| &*p.sentence).collect();
        assert!(
            told.iter().any(|s| s.starts_with(sentence)),
            "{row}: {told:?}"
        );
    }
}
