use crate::table::{Worst, c, m, rows};
use science::physics::infrared::*;
use science::physics::radiation::Emissivity;

#[test]
fn what_is_shown_and_what_is_true_agree_with_the_fourth_powers() {
    let (mut forth, mut back, mut band) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("infrared") {
        let (surface, reflected) = (row.celsius("t_true_C"), row.celsius("t_reflected_C"));
        let eps = Emissivity::new(row.number("eps_true")).unwrap();
        let set = Setting { emissivity: Emissivity::new(row.number("eps_set")).unwrap(), reflected };
        let seen = shown(surface, eps, reflected, &set).unwrap();
        forth.absolute(seen.degrees(), row.number("shown_C_T4"), surface.degrees());
        let truth = corrected(seen, &set, eps, reflected).unwrap();
        back.absolute(truth.degrees(), row.number("true_from_shown_T4_C"), surface.degrees());
        if 0.8 < eps.value() && (surface - reflected).kelvin().abs() <= 12.0 {
            band.absolute(seen.degrees(), row.number("shown_C_8to14um"), surface.degrees());
        }
    }
    // Nine digits of a temperature are 1e-7 K.
    forth.within(1e-6);
    back.within(1e-6);
    band.within(0.02);
}

#[test]
fn the_band_of_hand_held_instruments_goes_as_a_power_a_little_above_four() {
    for row in rows("infrared_band") {
        let n = row.number("local_exponent_n");
        assert!((4.1..4.9).contains(&n), "{n}");
    }
}

#[test]
fn emissivity_is_found_with_a_contact_thermometer() {
    let set = Setting { emissivity: Emissivity::USUAL, reflected: c(20.0) };
    for eps in [0.6, 0.85, 0.98] {
        let eps = Emissivity::new(eps).unwrap();
        let seen = shown(c(35.0), eps, c(20.0), &set).unwrap();
        let found = emissivity_from_contact(c(35.0), seen, &set, c(20.0)).unwrap();
        assert!((found.value() - eps.value()).abs() < 1e-9);
    }
    assert!(emissivity_from_contact(c(21.0), c(21.0), &set, c(20.0)).is_none());
}

#[test]
fn what_reflects_more_than_was_seen_is_no_surface() {
    let set = Setting { emissivity: Emissivity::BLACK, reflected: c(20.0) };
    assert!(corrected(c(-100.0), &set, Emissivity::new(0.05).unwrap(), c(40.0)).is_none());
}

#[test]
fn the_spot_grows_with_distance() {
    let mut worst = Worst::default();
    for row in rows("infrared_spot") {
        let got = spot(row.metres("distance_m"), row.number("D_to_S"), row.metres("aperture_m")).unwrap();
        worst.relative(got.metres(), row.number("spot_diameter_m"), row.text("distance_m"));
    }
    worst.within(1e-6);
    assert!(spot(m(1.0), 0.0, m(0.01)).is_none());
}
