//! How the heaters of a description are driven, where not all of it is told.

use records::facts::{Spot, Thermostat};

use super::model::{Drive, Place, drives, place_of};
use super::warmth::wanted_at;
use super::{Description, Model};

/// The drives by day or by night: as the thermostats are set; where no set point is told, at what the species wants at
/// the place of the probe.
pub fn held(described: &Description, model: &Model, night: bool) -> Vec<Drive> {
    let mut all = drives(described, model, night, None);
    let main = described.heaters.first().zip(all.first_mut());
    let Some((heater, drive)) = main else { return all };
    let is_bounded = model.most_w(0).is_finite();
    let place = match place_of(heater) {
        // A probe in the room holds nothing: without its watts nobody knows where that ends.
        Place::Room if !is_bounded => Place::At(Spot::WarmSurface),
        place => place,
    };
    let set = match *drive {
        Drive::Holds(_, set_c) => Some(set_c),
        Drive::Gives(_) if heater.thermostat == Some(Thermostat::None) && is_bounded => None,
        Drive::Gives(_) => {
            let spot = if let Place::At(spot) = place { spot } else { Spot::WarmSurface };
            let profile = described.profile();
            let wanted = profile.and_then(|one| wanted_at(one, spot).or_else(|| wanted_at(one, Spot::WarmSurface)));
            wanted.map(|(low, high)| f64::midpoint(low, high))
        }
    };
    if let Some(set_c) = set {
        *drive = Drive::Holds(place, set_c);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::twin::Guesses;
    use crate::twin::testing::described;

    fn driven(more: &[(&str, &str)]) -> Vec<Drive> {
        let described = described(more);
        let model = Model::new(&described, &Guesses::of(&described).middle()).unwrap();
        held(&described, &model, false)
    }

    #[test]
    fn what_is_not_told_is_what_the_species_wants_there() {
        let panel = [("heater", "panel"), ("species", "ball python")];
        assert_eq!(driven(&panel), [Drive::Holds(Place::At(Spot::WarmAir), 30.0)]);
        let surface = [&panel[..], &[("probe", "warm-surface")]].concat();
        assert_eq!(driven(&surface), [Drive::Holds(Place::At(Spot::WarmSurface), 32.0)]);
        let told = [&panel[..], &[("set_c", "29"), ("thermostat", "on-off")]].concat();
        assert_eq!(driven(&told), [Drive::Holds(Place::At(Spot::WarmAir), 29.0)]);
    }

    #[test]
    fn without_a_thermostat_it_gives_all_it_has_and_without_watts_it_is_held() {
        let none = [("heater", "mat"), ("thermostat", "none"), ("species", "corn snake")];
        assert_eq!(driven(&none), [Drive::Holds(Place::At(Spot::WarmSurface), 31.0)]);
        assert_eq!(driven(&[&none[..], &[("watts", "20")]].concat()), [Drive::Gives(20.0)]);
        let outside = [("heater", "mat"), ("set_c", "30"), ("probe", "outside"), ("thermostat", "on-off")];
        assert_eq!(driven(&outside), [Drive::Holds(Place::At(Spot::WarmSurface), 30.0)]);
        assert!(driven(&[]).is_empty());
    }
}
