//! Records in the order of time, each with a name that depends only on its place and its day.

use records::{Fact, RecordId};
use store::{NewRecord, Stamp};
use units::{Moment, When, Zone};
use web::desk::Desk;

use crate::exit::Ended;

/// Who wrote all of it down.
const WRITER: &str = "demo";

/// What happened, not written down yet.
pub struct Story {
    now: Moment,
    zone: Zone,
    told: Vec<(Moment, NewRecord)>,
}

impl Story {
    /// An empty story that ends at `now`.
    pub fn new(zone: Zone, now: Moment) -> Story {
        Story { now, zone, told: Vec::new() }
    }

    /// The moment at which the story ends.
    pub fn now(&self) -> Moment {
        self.now
    }

    /// The zone in which it plays.
    pub fn zone(&self) -> &Zone {
        &self.zone
    }

    /// A day, so many days back.
    pub fn day(&self, back: i64) -> When {
        self.zone.day(self.zone.date(self.zone.days_later(self.now, -back)))
    }

    /// An hour of a day, so many days back; never later than the end.
    pub fn hour(&self, back: i64, hour: i64) -> When {
        let midnight = self.zone.day_start(self.zone.days_later(self.now, -back));
        When::exactly(Moment((midnight.0 + hour * 3_600).min(self.now.0 - 3_600)))
    }

    /// So many hours before the end, to the minute.
    pub fn hours_ago(&self, hours: i64) -> When {
        let at = self.now.0 - hours * 3_600;
        When::exactly(Moment(at - at.rem_euclid(60)))
    }

    /// A month, so many days back.
    pub fn month(&self, back: i64) -> When {
        let date = self.zone.date(self.zone.days_later(self.now, -back));
        self.zone.month(date.year(), date.month()).unwrap_or_else(|| self.day(back))
    }

    /// A name for the next record.
    fn id(&self, at: Moment) -> RecordId {
        // SplitMix64 (Steele, Lea and Flood 2014, OOPSLA, figure 17) of the place in the story.
        let mix = |mut z: u64| {
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            z ^ (z >> 31)
        };
        let place = self.told.len() as u64;
        let bytes = [mix(2 * place + 1).to_le_bytes(), mix(2 * place + 2).to_le_bytes()].concat();
        let mut random = [0; 10];
        random.iter_mut().zip(bytes).for_each(|(to, from)| *to = from);
        store::new_id(at, random)
    }

    /// Adds a record that was written down so many days back, at its hour where it has one, and gives its name. Who
    /// and where come first on a day.
    pub fn tell(&mut self, back: i64, about: impl FnOnce(NewRecord) -> NewRecord, fact: Fact) -> RecordId {
        let is_first = matches!(fact, Fact::Animal(_) | Fact::Enclosure(_) | Fact::Heater(_) | Fact::Stay(_));
        let written = match fact.when().filter(|when| when.has_hour()) {
            Some(when) => when.from.min(self.now),
            None if is_first => self.day(back).from,
            None => self.hour(back, 21).from,
        };
        let id = self.id(written);
        self.told.push((written, about(NewRecord::new(id, fact))));
        id
    }

    /// How many animals are in it.
    pub fn animals(&self) -> usize {
        self.told.iter().filter(|(_, record)| matches!(record.fact, Fact::Animal(_))).count()
    }

    /// Writes everything down, a day at a time; gives the number of records.
    pub fn write_down(mut self, desk: &Desk) -> Result<usize, Ended> {
        self.told.sort_by_key(|(written, _)| *written);
        let mut rest = self.told.as_slice();
        while let Some((first, _)) = rest.first() {
            let day = self.zone.date(*first);
            let end = rest.iter().position(|(written, _)| self.zone.date(*written) != day).unwrap_or(rest.len());
            let (act, later) = rest.split_at(end);
            let recorded_at = act.last().map_or(*first, |(written, _)| *written);
            let records: Vec<NewRecord> = act.iter().map(|(_, record)| record.clone()).collect();
            let stamp = Stamp { recorded_at, zone: self.zone.clone(), by: WRITER.to_owned() };
            desk.store().append(&records, &stamp)?;
            rest = later;
        }
        Ok(self.told.len())
    }
}
