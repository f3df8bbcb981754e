//! A job of three beds, every sheet filled, read into what it means.

use super::{Sheets, d, job, told};
use crate::model::bed::{Base, Measured, Shape};
use crate::model::fill::{Depth, Rate, Stuff};
use crate::model::frame::{Corner, FrameKind, Wall};
use crate::model::job::HaulGround;
use crate::model::known::{From, Known};
use crate::model::labour::{Driver, ExtraKind, HireStep, Pay, Per};
use crate::model::material::{Category, Source};
use crate::model::offer::Handover;
use crate::model::settings::{Paper, ProfitAs, TaxMode};
use crate::model::sheet::Sheet;
use crate::problem::Severity;
use crate::units::{Amount, Area, Density, Length, System, Volume, Weight};

pub(super) const THREE_BEDS: Sheets<'_> = &[
    (
        "Job",
        "Setting,Value\nJob name,Mill Lane\nUnits,US\nDate,2026-03-02\nOverhead %,12%\nprofit_as,margin\nKerf,3/32 in\nTax mode,paid on purchases\nTax %,7.25%\n",
    ),
    (
        "Sites",
        "Site,Travel time,Haul distance,Haul ground,Gate width (in),Tax %\nNorth,0.7 h,120 ft,soft,40,\nSouth,,,,,8%\n",
    ),
    (
        "Suppliers",
        "Supplier,Contact\nHill Yard,Ann\nPlank Shop,\n",
    ),
    (
        "Beds",
        "Bed,Count,Length (ft),Width (ft),Height (in),Courses,Shape,Notch length,Notch width,Frame,Fill,Site,Phase,Base,Slope %,Measured\n\
         B1,3,8,4,,2,,,,Cedar walls,Deep,North,1,,5%,\n\
         B2,,12,6,18.5,,L,4 ft,2 ft,cedar_walls,Compost,north,2,paved,,inside\n\
         B3,1,4,4,17,,,,,Tank,Deep,South,1,,,\n",
    ),
    (
        "Frames",
        "Frame,Frame kind,Material,Post material,Post spacing,Corner,Fastener,Coats\n\
         Cedar walls,boards,2x10 cedar,4x4 post,,mitred,Deck screws,\n\
         Tank,ready-made,Stock tank,,,,,\n",
    ),
    (
        "Fills",
        "Fill,Layer,Material,Depth\nDeep,3,House mix,rest\nDeep,1,Cardboard,2 sheets\nDeep,2,Logs,40%\n",
    ),
    (
        "Mixes",
        "Mix,Material,Parts\nHouse mix,Topsoil,2\nHouse mix,Compost,1\n",
    ),
    (
        "Amendments",
        "Fill,Material,Rate\nDeep,Garden lime,5 lb/100 ft2\nDeep,Bone meal,1 lb per bed\nDeep,Perlite,5%\n",
    ),
    (
        "Materials",
        "Material,Category,Delivered density,Wet-down %,Source,On hand\n\
         Topsoil,,\"2,400 lb/yd3\",12%,,\n\
         Logs,,,,on site,3 yd3\n",
    ),
    (
        "Prices",
        "Supplier,Material,Pack,Holds,Price,From quantity,Step,Least quantity,Taxable\n\
         Hill Yard,Topsoil,yard,,42.00,,0.5 yd3,1,yes\n\
         Hill Yard,Compost,bag,1.5 ft3,7.25,10,,,yes\n\
         Plank Shop,2x10 cedar,board,12 ft,31.90,,,,yes\n\
         Plank Shop,4x4 post,post,8 ft,,,,,yes\n\
         Plank Shop,Deck screws,box,350,38,,,,yes\n\
         Plank Shop,Cardboard,roll,4 ft x 50 ft,55,,,,yes\n",
    ),
    (
        "Deliveries",
        "Supplier,Vehicle,Volume limit,Weight limit,Fee,Carries\nHill Yard,Tipper,7 yd3,\"13,000 lb\",95,topsoil; compost\n",
    ),
    (
        "Labour",
        "Task,Person-hours,Per,Worker\nspread,0.3,yd3,Crew\nHang a gate,1.5,site,\nLay path,2,100 ft2 of footprint,Friends\n",
    ),
    (
        "Workers",
        "Worker,Pay rate,Burden %,Paid or volunteer,In-kind value\nCrew,32,18%,paid,\nFriends,,,volunteer,29.95\n",
    ),
    (
        "Equipment",
        "Item,Hire step,Rate,Does,Output per hour,Delivery\nMini loader,day,260,haul,9 yd3,80\n",
    ),
    (
        "Extras",
        "Item,Quantity,Rate,Per,Kind of extra,Taxable,Site\nPermit,1,85,job,pass-through,,\nMulch top,1,0.50,area,,no,South\nTree work,,,job,not included,,\n",
    ),
];

#[track_caller]
fn check_from_job<T>(known: &Known<T>, field: &str) {
    assert!(matches!(known.from, From::Job(_, f) if f == field));
}

fn feet(text: &str) -> Length {
    Length::feet(d(text))
}

fn inches(text: &str) -> Length {
    Length::inches(d(text))
}

#[test]
fn settings_come_from_their_cells_and_the_rest_is_said_to_be_assumed() {
    let s = job(THREE_BEDS).settings;
    assert_eq!(&*s.job_name, "Mill Lane");
    assert_eq!(s.units.value, System::UsCustomary);
    check_from_job(&s.units, "Value");
    assert_eq!(s.date.unwrap().value.to_string(), "2026-03-02");
    assert_eq!(s.overhead.value, d("0.12"));
    assert_eq!(s.profit_as.value, ProfitAs::Margin);
    assert_eq!(s.tax_mode.value, TaxMode::OnPurchases);
    assert_eq!(s.tax.value, d("0.0725"));
    // 3/32 in = 0.09375 in
    assert_eq!(s.kerf.value, inches("0.09375"));
    assert_eq!(s.contingency.from, From::Assumed("not set, taken as 0%"));
    assert_eq!(
        s.crown,
        Known::assumed(inches("2"), "not set, taken as 2 in")
    );
    assert_eq!(s.paper.value, Paper::Letter);
    assert_eq!(s.currency.value.as_str(), "USD");
    assert_eq!(s.setup_hours.value.in_hours(), d("0.75"));
    assert!(matches!(s.setup_hours.from, From::Library(_)));
}

#[test]
fn beds_stand_on_their_sites_in_their_frames() {
    let job = job(THREE_BEDS);
    let [one, two, three] = job.beds.as_slice() else {
        panic!("three beds");
    };
    assert_eq!(one.count, 3);
    assert_eq!((one.height, one.courses), (None, Some(2)));
    assert_eq!(
        one.shape,
        Shape::Rectangle {
            length: feet("8"),
            width: feet("4")
        }
    );
    assert_eq!(one.slope.unwrap().fall, d("0.05"));
    assert_eq!(one.frame, two.frame, "Cedar walls and cedar_walls are one");
    assert_eq!(one.site, two.site, "North and north are one");
    assert_eq!(
        two.shape,
        Shape::L {
            length: feet("12"),
            width: feet("6"),
            notch_length: feet("4"),
            notch_width: feet("2")
        }
    );
    assert_eq!((two.base, two.measured), (Base::Paved, Measured::Inside));
    assert_eq!(two.height, Some(inches("18.5")));
    assert_ne!(three.site, two.site);
    assert_eq!(
        job.phases.iter().map(|p| &**p).collect::<Vec<_>>(),
        ["1", "2"]
    );
    assert_eq!(job.sites[0].gate.as_ref().unwrap().value, inches("40"));
    assert_eq!(job.sites[0].haul_ground.value, HaulGround::Soft);
    assert_eq!(
        job.sites[1].haul,
        Known::assumed(feet("50"), "not set, taken as 50 ft")
    );
    assert_eq!(job.sites[1].tax.as_ref().unwrap().value, d("0.08"));
}

#[test]
fn frames_take_dressed_sections_and_the_library_fills_the_gaps() {
    let job = job(THREE_BEDS);
    let Wall::Boards(walls) = &job.frames[0].wall else {
        panic!("the first frame is of boards")
    };
    assert_eq!(walls.corner.value, Corner::Mitre);
    let boards = job.material(walls.board).unwrap();
    let section = &boards.section.as_ref().unwrap().value;
    assert_eq!(
        (section.thickness, section.face),
        (inches("1.5"), inches("9.25"))
    );
    let posts = walls.posts.as_ref().unwrap();
    assert_eq!(posts.spacing.value, feet("4"));
    assert!(matches!(posts.spacing.from, From::Library(_)));
    // a 10 in nominal face takes the wide figure
    assert_eq!(walls.per_joint.value, 4);
    assert_eq!(job.frames[1].kind(), FrameKind::ReadyMade);
    assert_eq!(
        job.material(walls.fastener.unwrap()).unwrap().category,
        Category::Fastener
    );
}

#[test]
fn layers_stand_in_the_order_of_their_numbers() {
    let job = job(THREE_BEDS);
    let deep = &job.fills[0];
    let depths: Vec<Depth> = deep.layers.iter().map(|l| l.depth).collect();
    assert_eq!(
        depths,
        [Depth::Sheets(2), Depth::Share(d("0.4")), Depth::Rest]
    );
    assert!(matches!(deep.layers[2].stuff, Stuff::Mix(_)));
    assert_eq!(
        job.mixes[0].parts.iter().map(|p| p.1).collect::<Vec<_>>(),
        [d("2"), d("1")]
    );
    let compost = &job.fills[job.beds[1].fill.unwrap().index()];
    assert_eq!(compost.layers[0].depth, Depth::Rest);
    // 5 lb for 100 ft2 = 2.26796185 kg for 9.290304 m2, so 0.2441214... kg a square metre
    let Rate::PerArea(Amount::Weight(lime)) = deep.amendments[0].rate else {
        panic!("by area");
    };
    assert_eq!(lime.in_kilograms().round_dp(7), d("0.2441214"));
    assert_eq!(
        deep.amendments[1].rate,
        Rate::PerBed(Amount::Weight(Weight::pounds(d("1"))))
    );
    assert_eq!(deep.amendments[2].rate, Rate::Share(d("0.05")));
}

#[test]
fn materials_are_the_librarys_with_the_jobs_figures_over_it() {
    let job = job(THREE_BEDS);
    let named = |name: &str| job.materials.iter().find(|m| &*m.name == name).unwrap();
    let soil = named("Topsoil");
    let density = soil.delivered.as_ref().unwrap();
    assert_eq!(density.value, Density::pounds_per_cubic_yard(d("2400")));
    check_from_job(density, "Delivered density");
    assert_eq!(soil.wet_down.value, d("0.12"));
    assert_eq!(soil.first_season.value, d("0.04"));
    assert!(matches!(soil.first_season.from, From::Library(_)));
    let logs = named("Logs");
    assert_eq!(logs.source.value, Source::OnSite);
    let on_hand = logs.on_hand.as_ref().unwrap().value;
    assert_eq!(on_hand, Amount::Volume(Volume::cubic_yards(d("3"))));
}

#[test]
fn prices_know_what_a_pack_holds_and_how_it_comes() {
    let job = job(THREE_BEDS);
    let soil = &job.offers[0];
    assert_eq!(soil.handover, Handover::Bulk);
    assert_eq!(soil.holds, Amount::Volume(Volume::cubic_yards(d("1"))));
    assert_eq!((soil.step, soil.least), (d("0.5"), d("1")));
    let bag = &job.offers[1];
    assert_eq!(bag.handover, Handover::Packed);
    assert_eq!(bag.from_quantity, d("10"));
    assert_eq!(bag.price.as_ref().unwrap().value, d("7.25"));
    assert_eq!(job.offers[2].holds, Amount::Length(feet("12")));
    assert_eq!(job.offers[3].price, None);
    assert_eq!(job.offers[4].holds, Amount::Count(d("350")));
    assert_eq!(
        job.offers[5].holds,
        Amount::Area(Area::square_feet(d("200")))
    );
    let tipper = &job.vehicles[0];
    assert_eq!(
        tipper.weight.as_ref().unwrap().value,
        Weight::pounds(d("13000"))
    );
    assert_eq!(
        tipper.carries.iter().map(|c| &**c).collect::<Vec<_>>(),
        ["Topsoil", "compost"]
    );
}

#[test]
fn tasks_people_machines_and_extras() {
    let job = job(THREE_BEDS);
    let spread = job.tasks.iter().find(|t| &*t.key == "spread").unwrap();
    assert_eq!(spread.rate.value, d("0.3"));
    check_from_job(&spread.rate, "Person-hours");
    assert_eq!(spread.per, Volume::cubic_yards(d("1")).in_cubic_metres());
    let gate = job
        .tasks
        .iter()
        .find(|t| &*t.name == "Hang a gate")
        .unwrap();
    assert_eq!((gate.driver, gate.per), (Driver::Site, d("1")));
    let path = job.tasks.iter().find(|t| &*t.name == "Lay path").unwrap();
    assert_eq!(
        (path.driver, &*path.per_words),
        (Driver::Footprint, "100 ft2")
    );
    let friends = &job.workers[1];
    assert_eq!(
        (friends.pay, friends.factor.value),
        (Pay::Volunteer, d("1.65"))
    );
    assert_eq!(friends.no_show.value, d("0.2"));
    assert_eq!(job.workers[0].factor.value, d("1"));
    let loader = &job.equipment[0];
    assert_eq!(
        (loader.step, loader.does),
        (HireStep::Day, Some(Driver::HaulVolume))
    );
    // 9 yd3 an hour
    assert_eq!(
        loader.output.unwrap(),
        Volume::cubic_yards(d("9")).in_cubic_metres()
    );
    assert_eq!(job.extras[0].kind, ExtraKind::PassThrough);
    assert!(!job.extras[0].marked_up);
    // 0.50 for each square foot is 10.7639 times that for each square metre
    let mulch = &job.extras[1];
    assert_eq!(mulch.per, Per::Area);
    assert_eq!(mulch.quantity.value.round_dp(4), d("10.7639"));
    assert_eq!(job.extras[2].kind, ExtraKind::Exclusion);
    assert!(job.sheets_used.contains(&Sheet::Mixes) && !job.sheets_used.contains(&Sheet::Areas));
}

#[test]
fn what_is_taken_on_the_users_behalf_is_said() {
    let notices = told(THREE_BEDS, Severity::Notice);
    let said = |words: &str| notices.iter().any(|n| n.contains(words));
    assert!(
        said("\"Compost\" is not in Fills: taken as one layer of it to the top"),
        "{notices:#?}"
    );
    assert!(said(
        "Measured is not set: sizes are taken as the outside of the walls"
    ));
    assert!(said("Slope along is not set, taken as length"));
}
