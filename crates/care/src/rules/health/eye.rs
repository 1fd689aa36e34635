//! Eyes.

use records::facts::SignKind;

use crate::answer::{Code, Severity};
use crate::draft::Draft;
use crate::rules::Rule;
use crate::rules::arrival::is_gone;
use crate::rules::shed::eye_cap_still_on;
use crate::signs::{Signs, Told};
use crate::view::View;

/// An eye that is cloudy, swollen or weeping, and not an old eye cap.
pub const RULE: Rule = Rule {
    key: "eye",
    says: "An eye that is cloudy, swollen or weeping: a veterinarian; in a shed a cloudy eye is part of it, with an eye cap still on it is told there.",
    because: "Eyes are lost within days, and old caps hide what is under them.",
    sources: &["eye_caps"],
    check,
};

fn check(view: &View<'_>, draft: &mut Draft) {
    if is_gone(view) || eye_cap_still_on(view) {
        return;
    }
    let signs = Signs::of(view);
    let Some(mut told) = Told::of(view, Code::Eye, &signs.of_code(Code::Eye)) else { return };
    let only_cloudy = !signs.has(SignKind::SwollenEye) && !signs.has(SignKind::EyeDischarge);
    if only_cloudy && view.open_shed().is_some() {
        told.lower(Severity::Note, "it is in a shed", "Nothing for now; look again when the skin is off.");
    }
    draft.find(told.finding(RULE.key));
}

#[cfg(test)]
mod tests {
    use super::super::tests::with;
    use super::*;

    #[test]
    fn how_grave_an_eye_is() {
        let shed = "[[shed]]\nblue_at = \"2027-04-09\"\n";
        for (signs, rest, severity) in [
            (&[("cloudy-one-eye", "slight")][..], "", Severity::Act),
            (&[("cloudy-one-eye", "")], "", Severity::Vet),
            (&[("cloudy-one-eye", "")], shed, Severity::Note),
            (&[("swollen-eye", "")], shed, Severity::Vet),
            (&[("eye-discharge", "")], "", Severity::Vet),
        ] {
            assert_eq!(with(signs, rest, Code::Eye), Some(severity), "{signs:?} {rest}");
        }
    }

    #[test]
    fn with_an_eye_cap_on_it_is_told_there() {
        let cap = "[[shed]]\nshed_at = \"2027-04-01\"\nretained = [\"left-eye-cap\"]\n";
        assert_eq!(with(&[("swollen-eye", "")], cap, Code::Eye), None);
        assert_eq!(with(&[("swollen-eye", "")], cap, Code::RetainedEyeCap), Some(Severity::Vet));
    }
}
