//! The places of the app and their addresses after the `#`.

/// Where the user is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Route {
    /// The job with its walls.
    Job,
    /// One wall, by its id.
    Wall(String),
    /// How much foam, what to buy, the order of shots.
    Foam,
    /// The sheets of one wall, by its id.
    Sheets(String),
}

impl Route {
    /// Reads an address; anything unknown leads to the job.
    pub fn parse(hash: &str) -> Self {
        let path = hash.trim_start_matches('#').trim_start_matches('/');
        match path.split_once('/') {
            Some(("wall", id)) if !id.is_empty() => Self::Wall(decode(id)),
            Some(("sheets", id)) if !id.is_empty() => Self::Sheets(decode(id)),
            None if path == "foam" => Self::Foam,
            _ => Self::Job,
        }
    }

    /// The address, as a link carries it.
    pub fn href(&self) -> String {
        match self {
            Self::Job => "#/job".to_owned(),
            Self::Foam => "#/foam".to_owned(),
            Self::Wall(id) => format!("#/wall/{}", encode(id)),
            Self::Sheets(id) => format!("#/sheets/{}", encode(id)),
        }
    }

    /// The wall it shows, if it shows one.
    pub fn wall(&self) -> Option<&str> {
        match self {
            Self::Job | Self::Foam => None,
            Self::Wall(id) | Self::Sheets(id) => Some(id),
        }
    }
}

/// Writes every byte but letters, digits and `-._~` as `%` and two digits (RFC 3986, section 2.3).
fn encode(id: &str) -> String {
    id.bytes().fold(String::new(), |mut text, byte| {
        if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
            text.push(char::from(byte));
        } else {
            text.push('%');
            for digit in [byte >> 4, byte & 15] {
                text.push(char::from(b"0123456789ABCDEF"[usize::from(digit)]));
            }
        }
        text
    })
}

fn decode(text: &str) -> String {
    let bytes = text.as_bytes();
    let mut plain = Vec::with_capacity(bytes.len());
    let mut idx = 0;
    while idx < bytes.len() {
        let digits = (bytes[idx] == b'%').then(|| bytes.get(idx + 1..idx + 3)).flatten();
        let byte = digits
            .and_then(|digits| u8::from_str_radix(std::str::from_utf8(digits).ok()?, 16).ok());
        plain.push(byte.unwrap_or(bytes[idx]));
        idx += if byte.is_some() { 3 } else { 1 };
    }
    String::from_utf8_lossy(&plain).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_address_leads_back_to_its_place() {
        for id in ["north", "wall 2", "Süd/West", "100%", "%41"] {
            for route in [Route::Wall(id.to_owned()), Route::Sheets(id.to_owned())] {
                assert_eq!(Route::parse(&route.href()), route, "{id}");
            }
        }
        for route in [Route::Job, Route::Foam] {
            assert_eq!(Route::parse(&route.href()), route, "the job as a whole");
        }
    }

    #[test]
    fn an_unknown_address_leads_to_the_job() {
        for hash in ["", "#", "#/", "#/wall", "#/wall/", "#/elsewhere/1", "#wall"] {
            assert_eq!(Route::parse(hash), Route::Job, "{hash}");
        }
    }

    #[test]
    fn addresses_hold_plain_characters_only() {
        assert_eq!(
            Route::Wall("a b/ü".to_owned()).href(),
            "#/wall/a%20b%2F%C3%BC",
            "RFC 3986 percent-encoding"
        );
    }
}
