//! Wheelbarrow hauling by its cycle: load, wheel, tip, come back, rest.
//!
//! Hours for a yard are (load + distance / loaded speed + distance / empty speed + dump + start)
//! x 27 ft3 / barrow load x (1 + rest). The load is what the tray holds or what a person can wheel,
//! whichever is less: six cubic feet of moist soil would weigh 489 lb.

use rust_decimal::Decimal;

use super::workload::over;
use crate::model::library::Library;
use crate::units::{Density, Length, Volume, Weight, round};

/// Minutes of an hour.
const MINUTES: Decimal = Decimal::from_parts(60, 0, 0, false, 0);

/// Which of a library figure's three values is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pace {
    /// The least hours: fastest speeds, least rest.
    Quick,
    /// The typical figures.
    Typical,
    /// The most hours.
    Slow,
}

/// A barrow and the person behind it.
#[derive(Clone, Copy, Debug)]
pub struct Barrow {
    /// What the tray holds, heaped.
    pub volume: Volume,
    /// What a person wheels.
    pub weight: Weight,
    /// Distance a minute, loaded.
    pub loaded: Length,
    /// Distance a minute, empty.
    pub empty: Length,
    /// Minutes to tip and turn.
    pub dump: Decimal,
    /// Minutes to take up, position and set down.
    pub start: Decimal,
    /// Volume that one person loads in an hour.
    pub loading: Volume,
    /// Rest and delay as a fraction of the working time.
    pub rest: Decimal,
}

impl Barrow {
    /// The barrow of the trade library. Its size is the same at every pace, so that a range tells how
    /// fast people are and not which barrow they own.
    pub fn of(library: &Library, pace: Pace) -> Self {
        let least = |key| figure(library, key, pace, false);
        let most = |key| figure(library, key, pace, true);
        let percent = least("barrow_rest_pct");
        Self {
            volume: Volume::cubic_feet(library.typical("barrow_volume_ft3")),
            weight: Weight::pounds(library.typical("barrow_weight_lb")),
            loaded: Length::feet(most("barrow_speed_loaded_ft_min")),
            empty: Length::feet(most("barrow_speed_empty_ft_min")),
            dump: least("barrow_dump_min"),
            start: least("barrow_start_min"),
            loading: Volume::cubic_yards(most("barrow_loading_yd3_h")),
            rest: over(percent, Decimal::ONE_HUNDRED),
        }
    }

    /// Whether every figure that the cycle divides by is there.
    pub fn is_whole(&self) -> bool {
        let volumes = [self.volume, self.loading];
        let speeds = [self.loaded, self.empty];
        volumes.iter().all(|v| *v > Volume::ZERO)
            && speeds.iter().all(|s| *s > Length::ZERO)
            && self.weight > Weight::ZERO
    }

    /// One load of a material, capped by volume and by weight; without a density by volume alone.
    ///
    /// # Examples
    /// 6 ft3 and 250 lb at 2,200 lb/yd3: 250 / 2,200 x 27 = 3.0682 ft3, the weight binds.
    pub fn load(&self, density: Option<Density>) -> Volume {
        match density.filter(|d| *d > Density::ZERO) {
            Some(density) => self.volume.min(self.weight.volume_at(density)),
            None => self.volume,
        }
    }

    /// How many barrow loads a volume makes, the last one begun counting whole.
    pub fn loads(&self, volume: Volume, density: Option<Density>) -> Decimal {
        round::whole_up(volume.ratio(self.load(density)))
    }

    /// Minutes of one cycle over a one-way distance, without rest.
    pub fn cycle(&self, density: Option<Density>, distance: Length) -> Decimal {
        let filling = self
            .load(density)
            .ratio(self.loading)
            .saturating_mul(MINUTES);
        [self.walk(distance), self.dump, self.start]
            .into_iter()
            .fold(filling, Decimal::saturating_add)
    }

    /// Person-hours to haul `volume` over a one-way distance, with rest.
    pub fn hours(&self, volume: Volume, density: Option<Density>, distance: Length) -> Decimal {
        self.rested(self.cycle(density, distance), volume, density)
    }

    /// Person-hours to walk `volume` over a one-way distance and back, with rest: what a longer way adds
    /// to goods that are taken up and put down anyway.
    pub fn walking(&self, volume: Volume, density: Option<Density>, distance: Length) -> Decimal {
        self.rested(self.walk(distance), volume, density)
    }

    /// Minutes to wheel one load over a one-way distance and come back.
    fn walk(&self, distance: Length) -> Decimal {
        let way = distance.ratio(self.loaded);
        way.saturating_add(distance.ratio(self.empty))
    }

    /// Hours for as many cycles of so many minutes as `volume` makes, with rest.
    fn rested(&self, minutes: Decimal, volume: Volume, density: Option<Density>) -> Decimal {
        let loads = volume.ratio(self.load(density));
        let rested = Decimal::ONE.saturating_add(self.rest);
        let hours = over(minutes, MINUTES);
        hours.saturating_mul(loads).saturating_mul(rested)
    }
}

/// A figure at a pace. `fast` figures (speeds) make little work when they are high, others when low.
fn figure(library: &Library, key: &str, pace: Pace, fast: bool) -> Decimal {
    let Some((low, typical, high)) = library.figure(key).map(|f| f.value) else {
        return Decimal::ZERO;
    };
    match (pace, fast) {
        (Pace::Typical, _) => typical,
        (Pace::Quick, true) | (Pace::Slow, false) => high,
        (Pace::Quick, false) | (Pace::Slow, true) => low,
    }
}
