//! New names of records, without asking the clock.

use records::RecordId;
use units::Moment;
use uuid::{NoContext, Timestamp, Uuid};

fn milliseconds(at: Moment) -> u64 {
    u64::try_from(at.0).unwrap_or(0).saturating_mul(1_000)
}

/// A UUIDv7 for a record made at `at`, from ten bytes that nobody else has.
pub fn new_id(at: Moment, random: [u8; 10]) -> RecordId {
    RecordId(uuid::Builder::from_unix_timestamp_millis(milliseconds(at), &random).into_uuid())
}

/// A UUIDv7 for a record made at `at`.
pub fn new_id_random(at: Moment) -> RecordId {
    let seconds = u64::try_from(at.0).unwrap_or(0);
    RecordId(Uuid::new_v7(Timestamp::from_unix(NoContext, seconds, 0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_later_name_sorts_after_an_earlier_one_and_two_are_never_the_same() {
        let (one, other) = (new_id_random(Moment(1_700_000_000)), new_id_random(Moment(1_700_000_000)));
        assert_ne!(one, other);
        assert!(one < new_id_random(Moment(1_700_000_001)));
        assert!(one < new_id(Moment(1_700_000_001), [0; 10]));
        assert_eq!(one.0.get_version_num(), 7);
        assert_eq!(one.to_string(), one.to_string().to_lowercase());
    }
}
