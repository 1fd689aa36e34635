//! A temperature that changes over the day: of a room, or a set point with a night setback.

use units::{Celsius, Seconds};

const DAY_S: f64 = 86_400.0;

/// A temperature as a function of time; time 0 is midnight.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// Always the same.
    Constant(Celsius),
    /// mean + amplitude sin(2π (t/day − rises_at)): a room over a day. `rises_at_day` is the share of the day at which
    /// it rises through the mean: 0.375 is 9 o'clock, so the warmest hour is 15 o'clock.
    Sine {
        /// Over the day.
        mean: Celsius,
        /// Half the swing, K.
        amplitude_k: f64,
        /// See above.
        rises_at_day: f64,
    },
    /// One value from `from_h` to before `to_h`, another in the rest of the day.
    DayNight {
        /// By day.
        day: Celsius,
        /// By night.
        night: Celsius,
        /// First hour of the day.
        from_h: f64,
        /// First hour of the night.
        to_h: f64,
    },
    /// Straight lines between points in time order; before the first and after the last its value.
    Table(Vec<(Seconds, Celsius)>),
}

impl Curve {
    /// The value at a time, °C.
    pub fn at_c(&self, time: Seconds) -> f64 {
        let t = time.seconds();
        match self {
            Curve::Constant(value) => value.degrees(),
            Curve::Sine { mean, amplitude_k, rises_at_day } => {
                mean.degrees() + amplitude_k * (std::f64::consts::TAU * (t / DAY_S - rises_at_day)).sin()
            }
            Curve::DayNight { day, night, from_h, to_h } => {
                let hour = (t / 3600.0).rem_euclid(24.0);
                let is_day =
                    if from_h <= to_h { (*from_h..*to_h).contains(&hour) } else { *from_h <= hour || hour < *to_h };
                if is_day { day.degrees() } else { night.degrees() }
            }
            Curve::Table(points) => between(points, t),
        }
    }
}

fn between(points: &[(Seconds, Celsius)], t: f64) -> f64 {
    let after = points.partition_point(|(time, _)| time.seconds() <= t);
    let value = |at: usize| points.get(at).map(|(time, value)| (time.seconds(), value.degrees()));
    match (after.checked_sub(1).and_then(value), value(after)) {
        (Some((t0, v0)), Some((t1, v1))) => v0 + (v1 - v0) * (t - t0) / (t1 - t0),
        (Some((_, v)), None) | (None, Some((_, v))) => v,
        (None, None) => f64::NAN,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn c(degrees: f64) -> Celsius {
        Celsius::new(degrees).unwrap()
    }

    #[test]
    fn a_setback_begins_and_ends_on_the_hour() {
        let by_day = Curve::DayNight { day: c(31.0), night: c(27.0), from_h: 8.0, to_h: 20.0 };
        let over_midnight = Curve::DayNight { day: c(31.0), night: c(27.0), from_h: 20.0, to_h: 8.0 };
        for (hour, value, other) in
            [(7.99, 27.0, 31.0), (8.0, 31.0, 27.0), (19.99, 31.0, 27.0), (20.0, 27.0, 31.0), (32.0, 31.0, 27.0)]
        {
            assert_eq!(by_day.at_c(Seconds::from_hours(hour)), value, "{hour} h");
            assert_eq!(over_midnight.at_c(Seconds::from_hours(hour)), other, "{hour} h");
        }
    }

    #[test]
    fn a_table_is_followed_in_straight_lines() {
        let table = Curve::Table(vec![(Seconds(0.0), c(20.0)), (Seconds(100.0), c(10.0))]);
        for (t, value) in [(-5.0, 20.0), (0.0, 20.0), (25.0, 17.5), (100.0, 10.0), (500.0, 10.0)] {
            assert_eq!(table.at_c(Seconds(t)), value, "{t} s");
        }
    }

    #[test]
    fn a_room_is_warmest_a_quarter_of_a_day_after_it_rises_through_its_mean() {
        let room = Curve::Sine { mean: c(20.0), amplitude_k: 2.0, rises_at_day: 0.375 };
        assert!((room.at_c(Seconds::from_hours(15.0)) - 22.0).abs() < 1e-9);
        assert!((room.at_c(Seconds::from_hours(9.0)) - 20.0).abs() < 1e-9);
    }
}
