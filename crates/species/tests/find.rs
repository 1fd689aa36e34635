//! Finding a profile by what a keeper calls the animal.

use rstest::rstest;
use species::{Found, library};

fn one(name: &str) -> Option<&'static str> {
    match library().find(name) {
        Found::One(profile) => Some(profile.key.as_str()),
        _ => None,
    }
}

#[rstest]
#[case::key("ball_python", "ball_python")]
#[case::key_with_spaces("ball python", "ball_python")]
#[case::scientific("Python regius", "ball_python")]
#[case::capitals("PYTHON REGIUS", "ball_python")]
#[case::spaces("  python   regius ", "ball_python")]
#[case::other_common("Royal-Python", "ball_python")]
#[case::older("Elaphe guttata", "corn_snake")]
#[case::older_with_subspecies("Elaphe guttata guttata", "corn_snake")]
#[case::gap("cornsnake", "corn_snake")]
#[case::apostrophe("Dumerils boa", "dumerils_boa")]
#[case::curly_apostrophe("Dumeril’s Boa", "dumerils_boa")]
#[case::kings("California king snake", "california_kingsnake")]
#[case::hyphens("trans-pecos rat snake", "trans_pecos_rat_snake")]
#[case::more_exact_than_asked("Morelia spilota spilota", "diamond_python")]
#[case::subspecies("Morelia spilota mcdowelli", "carpet_python")]
#[case::general("general_boa", "general_boa")]
fn a_name_of_one_profile_finds_it(#[case] name: &str, #[case] key: &str) {
    assert_eq!(one(name), Some(key));
}

#[rstest]
#[case("Morelia spilota", &["carpet_python", "diamond_python"])]
#[case("king snake", &["california_kingsnake", "eastern_kingsnake"])]
#[case("Garter-Snake", &["common_garter", "checkered_garter", "plains_garter"])]
#[case("boa", &["boa_imperator", "boa_constrictor"])]
#[case("Red-tailed Boa", &["boa_imperator", "boa_constrictor"])]
fn a_name_of_several_profiles_is_asked(#[case] name: &str, #[case] keys: &[&str]) {
    let Found::Ask { ask, profiles } = library().find(name) else { panic!("{name} was not asked about") };
    let found: Vec<&str> = profiles.iter().map(|profile| profile.key.as_str()).collect();
    assert_eq!(found, keys);
    assert!(!ask.why.is_empty());
}

#[rstest]
#[case("Pyton regius", "Python regius")]
#[case("bal python", "ball python")]
#[case("corn snaek", "corn snake")]
#[case("Panterophis gutatus", "Pantherophis guttatus")]
#[case("garter snaek", "garter snake")]
#[case("hognose", "plains hognose")]
fn a_slip_is_answered_with_the_nearest_name(#[case] name: &str, #[case] first: &str) {
    let Found::None { nearest } = library().find(name) else { panic!("{name} was found") };
    assert_eq!(nearest.first().map(String::as_str), Some(first), "{nearest:?}");
    assert!(nearest.len() <= 5);
}

#[rstest]
#[case("")]
#[case("   ")]
#[case("goldfish")]
#[case("Ophiophagus hannah")]
fn what_is_like_nothing_is_answered_with_nothing(#[case] name: &str) {
    assert_eq!(library().find(name), Found::None { nearest: vec![] });
}

#[test]
fn every_name_of_every_profile_finds_it_or_is_asked() {
    for profile in &library().profiles {
        let names =
            [&profile.key, &profile.scientific_name].into_iter().chain(&profile.names).chain(&profile.common_names);
        for name in names {
            match library().find(name) {
                Found::One(found) => assert_eq!(found.key, profile.key, "{name}"),
                Found::Ask { profiles, .. } => assert!(profiles.contains(&profile), "{name}"),
                Found::None { .. } => panic!("{name} of {} is not found", profile.key),
            }
        }
    }
}

#[rstest]
#[case("Pythonidae", Some("general_python"))]
#[case("pythonidae ", Some("general_python"))]
#[case("Boidae", Some("general_boa"))]
#[case("Erycidae", Some("general_boa"))]
#[case("Charinidae", Some("general_boa"))]
#[case("Sanziniidae", Some("general_boa"))]
#[case("Colubridae", Some("general_colubrid"))]
#[case("Dipsadidae", Some("general_colubrid"))]
#[case("Natricidae", Some("general_colubrid"))]
#[case("Lamprophiidae", Some("general_colubrid"))]
#[case("Viperidae", Some("general_snake"))]
#[case("any", Some("general_snake"))]
#[case("", None)]
#[case("  ", None)]
fn a_family_is_served_by_its_general_profile(#[case] family: &str, #[case] key: Option<&str>) {
    assert_eq!(library().family_profile(family).map(|profile| profile.key.as_str()), key);
}

#[test]
fn a_genus_tells_the_family_of_a_species_without_a_profile() {
    let library = species::library();
    for (name, family) in [
        ("Simalia boeleni", Some("Pythonidae")),
        ("orthriophis moellendorffi", Some("Colubridae")),
        ("Eryx jaculus", Some("Erycidae")),
        ("Pyton regius", None),
        ("", None),
    ] {
        assert_eq!(library.family_of(name), family, "{name}");
    }
}

#[test]
fn the_family_of_a_genus_is_that_of_its_profiles() {
    let library = species::library();
    for profile in library.profiles.iter().filter(|profile| !profile.general) {
        assert_eq!(library.family_of(&profile.scientific_name), Some(profile.family.as_str()), "{}", profile.key);
    }
}
