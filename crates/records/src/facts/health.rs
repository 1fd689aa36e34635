//! Signs seen on the animal, and what a veterinarian prescribed. A dose is recorded, never reckoned.

use units::When;

use super::{Recorded, Sheet};
use crate::choices;
use crate::fields::{Limits, Reader};

choices!(
    /// Something seen on the animal that may matter to its health.
    SignKind, "sign", {
        OpenMouthBreathing = "open-mouth-breathing", Wheezing = "wheezing", NoseBubbles = "nose-bubbles",
        NoseCrust = "nose-crust", MucusInMouth = "mucus-in-mouth", RedMouth = "red-mouth", PusInMouth = "pus-in-mouth",
        JawSwelling = "jaw-swelling", Blister = "blister", CharredScales = "charred-scales",
        RedBellyScales = "red-belly-scales", SkinSloughing = "skin-sloughing", MitesSeen = "mites-seen",
        TicksSeen = "ticks-seen", StarGazing = "star-gazing", CannotRightItself = "cannot-right-itself",
        Uncoordinated = "uncoordinated", Tremor = "tremor", Limp = "limp", NoMovement = "no-movement",
        ColdToTouch = "cold-to-touch", Prolapse = "prolapse", Lump = "lump", MidBodySwelling = "mid-body-swelling",
        Bleeding = "bleeding", Wound = "wound", BiteWound = "bite-wound", RubbedNose = "rubbed-nose",
        SunkenEyes = "sunken-eyes", WrinkledSkin = "wrinkled-skin", CloudyOneEye = "cloudy-one-eye",
        SwollenEye = "swollen-eye", EyeDischarge = "eye-discharge", WateryStool = "watery-stool",
        BloodyStool = "bloody-stool", WormsInStool = "worms-in-stool", NoStool = "no-stool", Straining = "straining",
        Weak = "weak", Lethargic = "lethargic", SpineShowing = "spine-showing", FatRolls = "fat-rolls",
        SoakingLong = "soaking-long", Pacing = "pacing", FoulSmell = "foul-smell", ChangedScales = "changed-scales",
        BeddingInMouth = "bedding-in-mouth", SwallowedObject = "swallowed-object", LaidEggs = "laid-eggs",
        GaveBirth = "gave-birth", Missing = "missing", Found = "found", Dead = "dead", Other = "other",
    }
);

choices!(
    /// How marked a sign is.
    Grade, "grade", { Slight = "slight", Marked = "marked", Severe = "severe" }
);

/// Something seen on the animal.
#[derive(Clone, Debug, PartialEq)]
pub struct Sign {
    /// When.
    pub at: When,
    /// What.
    pub sign: SignKind,
    /// How marked, where it is told.
    pub grade: Option<Grade>,
    /// Gone since.
    pub cleared_at: Option<When>,
    /// Free words; they change nothing.
    pub note: Option<String>,
}

impl Recorded for Sign {
    fn read(reader: &mut Reader<'_>) -> Option<Sign> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let sign = reader.choice("sign");
        let sign = reader.require("sign", sign);
        let grade = reader.choice("grade");
        let cleared_at = reader.day("cleared_at");
        let note = reader.text("note");
        if let (Some(at), Some(cleared)) = (at, cleared_at)
            && cleared.to < at.from
        {
            reader.object("cleared_at", "the sign was gone before it was seen", "mend one of the two dates");
        }
        Some(Sign { at: at?, sign: sign?, grade, cleared_at, note })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.choice("sign", Some(self.sign));
        sheet.choice("grade", self.grade);
        sheet.when("cleared_at", self.cleared_at);
        sheet.text("note", self.note.as_deref());
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}

/// A course that was prescribed. The tool repeats it; it never makes or changes one.
#[derive(Clone, Debug, PartialEq)]
pub struct Treatment {
    /// What was prescribed, in the veterinarian's words.
    pub name: String,
    /// By whom.
    pub prescribed_by: Option<String>,
    /// First time.
    pub from: When,
    /// Time between two, in hours.
    pub every_hours: Option<f64>,
    /// How many in all.
    pub doses: Option<u32>,
    /// When it was given.
    pub given: Vec<When>,
}

impl Recorded for Treatment {
    fn read(reader: &mut Reader<'_>) -> Option<Treatment> {
        let name = reader.text("name");
        let name = reader.require("name", name);
        let prescribed_by = reader.text("prescribed_by");
        let from = reader.day("from");
        let from = reader.require("from", from);
        let every_hours = reader.number("every_hours", Limits::new(1.0, 8_784.0, "hours"));
        let doses = reader.count("doses", 1, 1_000);
        let mut given = reader.dates("given");
        given.sort();
        Some(Treatment { name: name?, prescribed_by, from: from?, every_hours, doses, given })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.text("name", Some(&self.name));
        sheet.text("prescribed_by", self.prescribed_by.as_deref());
        sheet.when("from", Some(self.from));
        sheet.number("every_hours", self.every_hours);
        sheet.number("doses", self.doses.map(f64::from));
        sheet.dates("given", &self.given);
    }
    fn when(&self) -> Option<When> {
        Some(self.from)
    }
}

/// One time that a prescribed course was given.
#[derive(Clone, Debug, PartialEq)]
pub struct Dose {
    /// When.
    pub at: When,
    /// The name of the course.
    pub treatment: String,
}

impl Recorded for Dose {
    fn read(reader: &mut Reader<'_>) -> Option<Dose> {
        let at = reader.day("at");
        let at = reader.require("at", at);
        let treatment = reader.text("treatment");
        let treatment = reader.require("treatment", treatment);
        Some(Dose { at: at?, treatment: treatment? })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.when("at", Some(self.at));
        sheet.text("treatment", Some(&self.treatment));
    }
    fn when(&self) -> Option<When> {
        Some(self.at)
    }
}
