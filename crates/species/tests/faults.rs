//! Every fault that the data can have: one small bad file each, and the whole message.

use rstest::rstest;
use species::Library;

/// What stands beside the bad file.
const BESIDE: [(&str, &str); 4] = [
    ("sources.toml", include_str!("faulty/beside/sources.toml")),
    ("prey.toml", include_str!("faulty/beside/prey.toml")),
    ("cautions.toml", include_str!("faulty/beside/cautions.toml")),
    ("exemplum.toml", include_str!("faulty/beside/exemplum.toml")),
];

fn messages(name: &str, text: &str) -> String {
    let mut files = BESIDE.to_vec();
    files.retain(|(beside, _)| *beside != name);
    files.push((name, text));
    let faults = Library::parse(&files).err().unwrap_or_default();
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

#[test]
fn what_stands_beside_has_no_fault() {
    assert_eq!(Library::parse(&BESIDE).map(|library| library.profiles.len()), Ok(1));
}

/// `role` is the name the bad file is read by, where it is no profile.
#[rstest]
#[case::degrees_fahrenheit(
    "",
    "degrees_fahrenheit.toml",
    include_str!("faulty/degrees_fahrenheit.toml"),
    r#"`night_min_c`: 73 is not likely
 where: degrees_fahrenheit.toml:7:25
  mend: give it in °C, from 0 to 50 (73 °F is 22.8 °C)"#
)]
#[case::duplicate_key(
    "",
    "duplicate_key.toml",
    include_str!("faulty/duplicate_key.toml"),
    r#"this is not TOML: duplicate key
 where: duplicate_key.toml:8:1
  mend: mend the line; names and text stand in quotes, tables in square brackets"#
)]
#[case::duplicate_name(
    "",
    "duplicate_name.toml",
    include_str!("faulty/duplicate_name.toml"),
    r#"the name `model snake` is already used at exemplum.toml:1:7
 where: duplicate_name.toml:5:17
  mend: take one out, or list the name in names.toml with both profiles"#
)]
#[case::duplicate_profile_key(
    "",
    "duplicate_profile_key.toml",
    include_str!("faulty/duplicate_profile_key.toml"),
    r#"the profile key `model_snake` is already used at exemplum.toml:1:7
 where: duplicate_profile_key.toml:1:7
  mend: give each profile key its own
the name `model_snake` is already used at exemplum.toml:1:7
 where: duplicate_profile_key.toml:1:7
  mend: take one out, or list the name in names.toml with both profiles"#
)]
#[case::duplicate_rule(
    "general.toml",
    "duplicate_rule.toml",
    include_str!("faulty/duplicate_rule.toml"),
    r#"the rule `first` is already used at general.toml:2:6
 where: general.toml:9:6
  mend: give each rule its own"#
)]
#[case::empty_text(
    "",
    "empty_text.toml",
    include_str!("faulty/empty_text.toml"),
    r#"`family` is empty
 where: empty_text.toml:3:10
  mend: write something, or take the line out"#
)]
#[case::grade_before_any(
    "signs.toml",
    "grade_before_any.toml",
    include_str!("faulty/grade_before_any.toml"),
    r#"the sign `wheezing` has a row for a grade before one for any grade
 where: signs.toml:1:1
  mend: write the row with `grade = "any"` first"#
)]
#[case::household_in_data(
    "",
    "household_in_data.toml",
    include_str!("faulty/household_in_data.toml"),
    r#"`household` is not a known status
 where: household_in_data.toml:7:60
  mend: known here: common-practice, from-memory, verified"#
)]
#[case::low_above_high(
    "",
    "low_above_high.toml",
    include_str!("faulty/low_above_high.toml"),
    r#"`warm_ambient_c`: the low end 31 is above the high end 29
 where: low_above_high.toml:7:26
  mend: exchange the two, or mend the wrong one"#
)]
#[case::low_above_high_in_a_list(
    "",
    "low_above_high_in_a_list.toml",
    include_str!("faulty/low_above_high_in_a_list.toml"),
    r#"`normal_pct`: the low end 90 is above the high end 60
 where: low_above_high_in_a_list.toml:9:11
  mend: exchange the two, or mend the wrong one"#
)]
#[case::middle_outside(
    "",
    "middle_outside.toml",
    include_str!("faulty/middle_outside.toml"),
    r#"`warm_ambient_c`: the middle 35 is outside 29 to 31
 where: middle_outside.toml:7:26
  mend: mend the wrong one"#
)]
#[case::missing_key(
    "",
    "missing_key.toml",
    include_str!("faulty/missing_key.toml"),
    r#"the file has no `family`
 where: missing_key.toml:1:1
  mend: add `family = ...`"#
)]
#[case::missing_source(
    "",
    "missing_source.toml",
    include_str!("faulty/missing_source.toml"),
    r#"`night_min_c` has no source
 where: missing_source.toml:7:15
  mend: add `source = "..."`, a key of sources.toml"#
)]
#[case::missing_status(
    "",
    "missing_status.toml",
    include_str!("faulty/missing_status.toml"),
    r#"`night_min_c` has no `status`
 where: missing_status.toml:7:15
  mend: add `status = "..."`, one of verified, common-practice, from-memory"#
)]
#[case::missing_value(
    "",
    "missing_value.toml",
    include_str!("faulty/missing_value.toml"),
    r#"`night_min_c` has no value
 where: missing_value.toml:7:15
  mend: add `value = ...`, or `low = ...` and `high = ...`"#
)]
#[case::month_13(
    "",
    "month_13.toml",
    include_str!("faulty/month_13.toml"),
    r#"`months_north`: 13 is not a month
 where: month_13.toml:10:1
  mend: write months as 1 to 12"#
)]
#[case::not_toml(
    "",
    "not_toml.toml",
    include_str!("faulty/not_toml.toml"),
    r#"this is not TOML: unclosed table, expected `]`
 where: not_toml.toml:6:13
  mend: mend the line; names and text stand in quotes, tables in square brackets"#
)]
#[case::number_for_a_table(
    "",
    "number_for_a_table.toml",
    include_str!("faulty/number_for_a_table.toml"),
    r#"`night_min_c` is a number, not a table
 where: number_for_a_table.toml:7:15
  mend: write a table"#
)]
#[case::one_end_only(
    "",
    "one_end_only.toml",
    include_str!("faulty/one_end_only.toml"),
    r#"`warm_ambient_c` has only one end, or a value beside its ends
 where: one_end_only.toml:7:18
  mend: write `value = ...`, or `low = ...` and `high = ...`"#
)]
#[case::rule_without_unit(
    "general.toml",
    "rule_without_unit.toml",
    include_str!("faulty/rule_without_unit.toml"),
    r#"the value of the rule `first` has no unit
 where: general.toml:1:1
  mend: add `unit = "..."`"#
)]
#[case::share_reversed(
    "",
    "share_reversed.toml",
    include_str!("faulty/share_reversed.toml"),
    r#"`prey_pct`: the low end 7 is above the high end 5
 where: share_reversed.toml:8:12
  mend: exchange the two, or mend the wrong one"#
)]
#[case::text_for_a_number(
    "",
    "text_for_a_number.toml",
    include_str!("faulty/text_for_a_number.toml"),
    r#"`value` is text, not a number
 where: text_for_a_number.toml:7:25
  mend: write a number"#
)]
#[case::too_few_numbers(
    "",
    "too_few_numbers.toml",
    include_str!("faulty/too_few_numbers.toml"),
    r#"`factors_lxwxh` does not have 3 numbers
 where: too_few_numbers.toml:7:17
  mend: write 3 numbers in square brackets"#
)]
#[case::unknown_caution(
    "signs.toml",
    "unknown_caution.toml",
    include_str!("faulty/unknown_caution.toml"),
    r#"there is no caution `hygeine`
 where: signs.toml:8:11
  mend: did you mean `hygiene`?"#
)]
#[case::unknown_climate(
    "",
    "unknown_climate.toml",
    include_str!("faulty/unknown_climate.toml"),
    r#"`tropic` is not a known climate
 where: unknown_climate.toml:4:11
  mend: did you mean `tropical`?"#
)]
#[case::unknown_grade_of_a_source(
    "sources.toml",
    "unknown_grade_of_a_source.toml",
    include_str!("faulty/unknown_grade_of_a_source.toml"),
    r#"the source `raiti1996` is not in sources.toml
 where: cautions.toml:4:10
  mend: known here: somebody2001
`E` is not a known grade
 where: sources.toml:2:9
  mend: known here: A, B, C, D, M, calc"#
)]
#[case::unknown_key(
    "",
    "unknown_key.toml",
    include_str!("faulty/unknown_key.toml"),
    r#"`temperature` has an unknown key `night_mim_c`
 where: unknown_key.toml:7:1
  mend: did you mean `night_min_c`?"#
)]
#[case::unknown_key_of_a_value(
    "",
    "unknown_key_of_a_value.toml",
    include_str!("faulty/unknown_key_of_a_value.toml"),
    r#"`night_min_c` has an unknown key `soruce`
 where: unknown_key_of_a_value.toml:7:29
  mend: did you mean `source`?"#
)]
#[case::unknown_prey_class(
    "",
    "unknown_prey_class.toml",
    include_str!("faulty/unknown_prey_class.toml"),
    r#"`rat-smal` is not a prey class
 where: unknown_prey_class.toml:9:17
  mend: did you mean `rat-small`?"#
)]
#[case::unknown_profile_to_ask_about(
    "names.toml",
    "unknown_profile_to_ask_about.toml",
    include_str!("faulty/unknown_profile_to_ask_about.toml"),
    r#"there is no profile `test_snaek`
 where: names.toml:3:13
  mend: known here: model_snake"#
)]
#[case::unknown_section(
    "",
    "unknown_section.toml",
    include_str!("faulty/unknown_section.toml"),
    r#"the file has an unknown key `temprature`
 where: unknown_section.toml:6:2
  mend: did you mean `temperature`?"#
)]
#[case::unknown_source(
    "",
    "unknown_source.toml",
    include_str!("faulty/unknown_source.toml"),
    r#"the source `raiti1969` is not in sources.toml
 where: unknown_source.toml:7:38
  mend: did you mean `raiti1996`?"#
)]
#[case::unknown_status(
    "",
    "unknown_status.toml",
    include_str!("faulty/unknown_status.toml"),
    r#"`verfied` is not a known status
 where: unknown_status.toml:7:60
  mend: did you mean `verified`?"#
)]
#[case::value_not_finite(
    "",
    "value_not_finite.toml",
    include_str!("faulty/value_not_finite.toml"),
    r#"`value` is not a finite number
 where: value_not_finite.toml:7:25
  mend: write a number
`high` is not a finite number
 where: value_not_finite.toml:8:37
  mend: write a number"#
)]
fn a_fault_says_what_where_and_how_to_mend(
    #[case] role: &str,
    #[case] file: &str,
    #[case] text: &str,
    #[case] expected: &str,
) {
    assert_eq!(messages(if role.is_empty() { file } else { role }, text), expected);
}

#[test]
fn every_bad_file_is_tried() {
    let tried = include_str!("faults.rs");
    let mut files = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/faulty")).unwrap();
    let untried = files.find_map(|file| {
        let name = file.unwrap().file_name().into_string().unwrap();
        (name.ends_with(".toml") && !tried.contains(&format!("faulty/{name}"))).then_some(name)
    });
    assert_eq!(untried, None);
}

#[test]
fn all_faults_of_all_files_are_told_at_once() {
    let mut files = BESIDE.to_vec();
    files.push(("one.toml", include_str!("faulty/low_above_high.toml")));
    files.push(("general.toml", include_str!("faulty/rule_without_unit.toml")));
    let places: Vec<String> =
        Library::parse(&files).err().unwrap_or_default().iter().map(species::DataFault::place).collect();
    assert_eq!(places, ["general.toml:1:1", "one.toml:7:26"]);
}
