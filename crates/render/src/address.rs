//! Text in an address.

/// Text as it may stand in the query of an address.
pub fn encoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' | b'~' => out.push(char::from(byte)),
            byte => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}

/// The text of [`encoded`]; what is no such text is taken as it stands.
pub fn decoded(text: &str) -> String {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.bytes();
    while let Some(byte) = rest.next() {
        if byte != b'%' {
            bytes.push(byte);
            continue;
        }
        let ahead = rest.clone();
        let digits: Vec<u8> = ahead.take(2).collect();
        match std::str::from_utf8(&digits).ok().and_then(|hex| u8::from_str_radix(hex, 16).ok()) {
            Some(value) if digits.len() == 2 => {
                bytes.push(value);
                rest.nth(1);
            }
            _ => bytes.push(byte),
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_survives_the_way_through_an_address() {
        for text in ["study", "tall shelf & co", "café / 100 %", "", "a+b=c?"] {
            assert_eq!(decoded(&encoded(text)), text);
        }
        assert_eq!(encoded("a b"), "a%20b");
        assert_eq!(decoded("100 %"), "100 %");
    }
}
