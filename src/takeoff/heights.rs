//! How high a wall is, and how many courses that takes.

use rust_decimal::Decimal;

use super::bill::Bill;
use super::trace::Trace;
use crate::model::bed::{Along, Slope};
use crate::model::frame::TopCourse;
use crate::model::material::Section;
use crate::problem::Problem;
use crate::units::{Length, round};

/// What a tape does not tell apart, 1/16 in: 47 cm asks for the 18 1/2 in of two dressed tens, not for
/// a third course to make up 0.1 mm.
const TAPE: Length = Length::metres(Decimal::from_parts(15875, 0, 0, false, 7));

/// More courses than any bed has.
const MOST_COURSES: u32 = 200;

/// Height of the walls of one bed. The rim is level.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Heights {
    /// From the highest ground to the rim.
    pub(super) high: Length,
    /// From the lowest ground to the rim.
    pub(super) low: Length,
    /// Courses at the highest ground; zero when the wall has none.
    pub(super) courses: u32,
    /// Courses at the lowest ground.
    pub(super) low_courses: u32,
    /// What is left of the face of the top course when it is ripped.
    pub(super) ripped: Option<Length>,
}

impl Heights {
    /// The same height all round.
    pub(super) fn level(high: Length) -> Self {
        Self {
            high,
            low: high,
            ..Self::default()
        }
    }

    /// Its courses in words: `1 course`, `2 to 4 courses`.
    pub(super) fn courses_in_words(&self) -> String {
        if self.low_courses > self.courses {
            format!("{} to {} courses", self.courses, self.low_courses)
        } else if self.courses == 1 {
            "1 course".to_owned()
        } else {
            format!("{} courses", self.courses)
        }
    }

    /// Half way between the high and the low side: the mean height over any plan that is balanced.
    pub(super) fn mean(&self) -> Length {
        (self.high + self.low).split(Decimal::TWO)
    }
}

/// Heights of a wall of boards: courses of the dressed face, never of the nominal one, of which only
/// the top one may be ripped.
pub(super) fn of_boards(
    bill: &mut Bill<'_>,
    section: &Section,
    top: TopCourse,
    extent: (Length, Length),
    trace: &mut impl Trace,
) -> Option<Heights> {
    let ripped = ripped(bill, section, top);
    let courses = match ripped {
        Some((courses, left)) => {
            tell_thin(bill, section, courses, left);
            courses
        }
        None => courses(bill, section)?,
    };
    if courses == 0 || courses > MOST_COURSES {
        let words =
            format!("a wall has from 1 to {MOST_COURSES} courses, and this asks for {courses}");
        let field = if bill.bed.courses.is_some() {
            "Courses"
        } else {
            "Height"
        };
        bill.tell(Problem::error(words), field);
        return None;
    }
    let whole_courses = section.face.times(Decimal::from(courses));
    let left = ripped.map(|(_, left)| left);
    let less = left.map_or(Length::ZERO, |left| section.face - left);
    let high = whole_courses - less;
    let units = bill.units;
    trace.step(
        "wall height",
        || {
            let face = units.length(section.face);
            match left {
                Some(left) => format!(
                    "{} courses x {face} + {} ripped",
                    courses.saturating_sub(1),
                    units.length(left)
                ),
                None => format!("{courses} courses x {face}"),
            }
        },
        || units.length(high),
    );
    let low = low_side(bill, high, extent, trace)?;
    let low_courses = whole(round::whole_up((low + less).ratio(section.face)));
    if low_courses > MOST_COURSES {
        let words =
            format!("the ground falls so far that the low side needs {low_courses} courses");
        bill.tell(
            Problem::error(words).hint("step the bed, or dig the high side in"),
            "Slope %",
        );
        return None;
    }
    Some(Heights {
        high,
        low,
        courses,
        low_courses,
        ripped: left,
    })
}

/// Courses, and the face of the top one, of a wall that is made as high as asked by ripping it.
///
/// `None` when the top course stays whole: when that is the rule, when no height is asked, when the
/// courses come out, and when the courses that are asked do not reach the height or pass it by one.
fn ripped(bill: &Bill<'_>, section: &Section, top: TopCourse) -> Option<(u32, Length)> {
    let asked = bill.bed.height.filter(|h| *h > Length::ZERO)?;
    if top == TopCourse::Whole || section.face <= Length::ZERO {
        return None;
    }
    let least = whole(reaching(asked, section.face));
    let left = asked - section.face.times(Decimal::from(least.saturating_sub(1)));
    let is_whole = as_good_as(left, section.face);
    let is_asked = bill.bed.courses.is_none_or(|courses| courses == least);
    (is_asked && !is_whole).then_some((least, left))
}

/// A strip thinner than this splits and cups: 2 in.
const THIN: Length = Length::metres(Decimal::from_parts(508, 0, 0, false, 4));

fn tell_thin(bill: &mut Bill<'_>, section: &Section, courses: u32, left: Length) {
    if left >= THIN {
        return;
    }
    let whole = |n: u32| bill.units.length(section.face.times(Decimal::from(n)));
    let heights = match courses.saturating_sub(1) {
        0 => whole(courses),
        less => format!("{} or {}", whole(less), whole(courses)),
    };
    let words = format!(
        "the top course is ripped to {}, a strip that splits and cups: a height of {heights} takes whole boards",
        bill.units.length(left)
    );
    bill.tell(Problem::notice(words), "Height");
}

/// Height at the lowest ground: the rim is level, so the wall grows by what the ground falls.
pub(super) fn low_side(
    bill: &mut Bill<'_>,
    high: Length,
    extent: (Length, Length),
    trace: &mut impl Trace,
) -> Option<Length> {
    let Some(slope) = bill.bed.slope.filter(|s| !s.fall.is_zero()) else {
        return Some(high);
    };
    if slope.fall < Decimal::ZERO || slope.fall > Decimal::ONE {
        let problem = Problem::error("the ground can fall from 0% to 100%").hint(
            "write the fall as a positive percentage; Height is the wall at the highest ground",
        );
        bill.tell(problem, "Slope %");
        return None;
    }
    let run = fall_length(slope, extent);
    let low = high + run.times(slope.fall);
    let units = bill.units;
    trace.step(
        "wall height on the low side",
        || {
            let percent = slope.fall.saturating_mul(Decimal::ONE_HUNDRED);
            let percent = percent.normalize();
            format!(
                "{} + {percent}% x {}",
                units.length(high),
                units.length(run)
            )
        },
        || units.length(low),
    );
    Some(low)
}

/// The distance over which the ground falls.
pub(super) fn fall_length(slope: Slope, (length, width): (Length, Length)) -> Length {
    match slope.along {
        Along::Length => length,
        Along::Width => width,
    }
}

/// A part of a course too small to be more than the dust of unit conversion.
fn dust() -> Decimal {
    Decimal::new(1, 9)
}

/// Whether a tape shows two lengths as the same.
fn as_good_as(one: Length, other: Length) -> bool {
    one.max(other) - one.min(other) <= TAPE
}

/// The least number of courses that reaches a height, as far as a tape shows it.
fn reaching(asked: Length, face: Length) -> Decimal {
    let courses = round::whole_up(asked.ratio(face));
    let fewer = courses.saturating_sub(Decimal::ONE);
    if fewer > Decimal::ZERO && as_good_as(face.times(fewer), asked) {
        fewer
    } else {
        courses
    }
}

fn whole(number: Decimal) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

/// Heights of a wall that is made as high as asked, without courses.
pub(super) fn as_asked(
    bill: &mut Bill<'_>,
    extent: (Length, Length),
    trace: &mut impl Trace,
) -> Option<Heights> {
    let Some(high) = bill.bed.height.filter(|h| *h > Length::ZERO) else {
        bill.tell(no_height(), "Height");
        return None;
    };
    let units = bill.units;
    trace.step(
        "wall height",
        || "as asked".to_owned(),
        || units.length(high),
    );
    let low = low_side(bill, high, extent, trace)?;
    Some(Heights {
        low,
        ..Heights::level(high)
    })
}

fn no_height() -> Problem {
    Problem::error("a bed with walls needs its height").hint("give Height, as 24 in")
}

/// Courses as asked, or the least number that reaches the asked height.
fn courses(bill: &mut Bill<'_>, section: &Section) -> Option<u32> {
    if section.face <= Length::ZERO {
        let words = format!("{} has no face width to build courses of", section.nominal);
        bill.tell(Problem::error(words), "Frame");
        return None;
    }
    match (bill.bed.courses, bill.bed.height) {
        (Some(courses), height) => {
            let built = section.face.times(Decimal::from(courses));
            if let Some(asked) = height.filter(|h| !as_good_as(*h, built)) {
                tell_courses_win(bill, courses, asked, built);
            }
            Some(courses)
        }
        (None, Some(asked)) => Some(courses_for(bill, section, asked)),
        (None, None) => {
            let problem = Problem::error("a bed with walls needs its height")
                .hint("give Height, as 18 in, or Courses, as 2");
            bill.tell(problem, "Height");
            None
        }
    }
}

fn tell_courses_win(bill: &mut Bill<'_>, courses: u32, asked: Length, built: Length) {
    let units = bill.units;
    let words = format!(
        "Height says {} and Courses says {courses}: Courses wins, and the wall is {} high",
        units.length(asked),
        units.length(built)
    );
    bill.tell(Problem::notice(words), "Height");
}

fn courses_for(bill: &mut Bill<'_>, section: &Section, asked: Length) -> u32 {
    let whole_number =
        |n: Decimal| n > Decimal::ZERO && round::whole_up(n).saturating_sub(n).abs() < dust();
    let dressed = reaching(asked, section.face);
    let is_dressed = as_good_as(section.face.times(dressed), asked);
    let nominal = asked.ratio(section.nominal_face);
    // 20 in is two courses of a nominal 10 in; whoever writes it means two boards, not three. A height
    // that the dressed boards really give is taken at its word.
    let means_nominal = section.nominal_face > section.face && whole_number(nominal) && !is_dressed;
    let courses = whole(if means_nominal {
        round::whole_up(nominal)
    } else {
        dressed
    });
    let built = section.face.times(Decimal::from(courses));
    if !as_good_as(built, asked) {
        let units = bill.units;
        let why = if means_nominal {
            format!("is {courses} courses of nominal {}", section.nominal)
        } else {
            format!("takes {courses} courses of {}", section.nominal)
        };
        let words = format!(
            "a height of {} {why}, whose true face is {}: the wall is {} high",
            units.length(asked),
            units.length(section.face),
            units.length(built)
        );
        bill.tell(Problem::notice(words), "Height");
    }
    courses
}
