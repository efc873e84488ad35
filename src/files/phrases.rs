//! The phrases that faults are told in: what a part is called, what was expected, what stood there.

use ron::error::Error;

use super::scan::Scan;

/// What a struct of the model is called in a file.
pub fn named(outer: &str) -> String {
    let word = match outer {
        "Bay" => "a bay",
        "Vehicle" => "a vehicle",
        "Equipment" => "an equipment file",
        "Procedure" => "a procedure",
        "Job" => "a job",
        "ShopRules" => "the rules",
        "KeepClear" => "a keep-clear area",
        "Chosen" => "a procedure of the job",
        "Found" => "a figure",
        "Accepted" => "an accepted finding",
        "MeasuredAsk" => "a measured figure",
        "LevelAsk" => "the level demand",
        "StringLine" => "a string line",
        "Tyre" => "the tyre",
        "Track" => "the track",
        "Mirrors" => "the mirrors",
        "Toe" => "a toe",
        "Installed" => "an installed target",
        "FloorLine" => "a floor line",
        "ChalkLine" => "a chalk line",
        "Mirrored" => "`mirrored`",
        "StandOn" => "`stand_on`",
        "Pick" => "`pick`",
        "Valid" => "`valid`",
        "Need" | "Wall" | "Doorway" | "Fixture" | "Lift" | "Setup" | "Station" | "Zone" | "Sight"
        | "Target" | "Face" | "Sensor" | "View" | "Tolerance" => {
            return format!("a {}", outer.to_lowercase());
        }
        other => return format!("`{other}`"),
    };
    word.into()
}

pub fn expected(scan: &Scan, token: usize, code: &Error) -> String {
    let what = match code {
        Error::ExpectedString | Error::ExpectedChar => "a text in quotes".into(),
        Error::ExpectedBoolean => "true or false".into(),
        Error::ExpectedInteger => "a whole number".into(),
        Error::ExpectedFloat | Error::FloatUnderscore => "a number".into(),
        Error::ExpectedArray => "a list in square brackets".into(),
        Error::ExpectedMap => "a table {\"name\": value, ...}".into(),
        Error::ExpectedMapColon => {
            format!("a colon after {}", found(scan, token.saturating_sub(1)))
        }
        Error::ExpectedArrayEnd => "a comma or the closing `]`".into(),
        Error::ExpectedMapEnd => "a comma or the closing `}`".into(),
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => "the closing `)`".into(),
        Error::ExpectedStructLike => "an opening `(`".into(),
        Error::ExpectedNamedStructLike(name) if !name.is_empty() => {
            format!("{} in round brackets", named(name))
        }
        Error::ExpectedNamedStructLike(_) => "an opening `(`".into(),
        Error::ExpectedIdentifier => "a word".into(),
        Error::ExpectedUnit => "nothing more".into(),
        Error::TrailingCharacters => "nothing after the last closing bracket".into(),
        Error::InvalidEscape(_) => {
            return "this text in quotes holds a backslash that means nothing; write \\\\ for a backslash"
                .into();
        }
        Error::ExceededRecursionLimit => return "brackets are nested too deeply here".into(),
        Error::UnexpectedChar(_) => "a value".into(),
        Error::Eof => return "the file ends before its value does".into(),
        Error::NoSuchExtension(name) => return format!("`{name}` is no extension of RON"),
        Error::ExpectedAttribute | Error::ExpectedAttributeEnd => "#![enable(...)] or nothing".into(),
        Error::InvalidValueForType { expected, .. } => expected.clone(),
        other => return format!("this cannot be read: {other}"),
    };
    format!("expected {what}, found {}", found(scan, token))
}

/// "the fixture "tool cabinet"" when the bracket has a name, else "a fixture".
pub fn thing(scan: &Scan, open: Option<usize>, outer: Option<&str>) -> String {
    let word = outer.map_or("this part".into(), named);
    let name = open.and_then(|o| scan.field(o, "name")).filter(|e| e.last == e.first + 2);
    match name.map(|e| scan.text(e.last)) {
        Some(name) if name.starts_with('"') && word.starts_with("a") && scan.outermost() != open => {
            let noun = word.trim_start_matches("an ").trim_start_matches("a ");
            format!("the {noun} {name}")
        }
        _ => word,
    }
}

pub fn choice(near: Option<&str>, are: &str, known: &[&str]) -> String {
    let all = known.iter().map(|k| format!("`{k}`")).collect::<Vec<_>>().join(", ");
    match near {
        Some(near) => format!("did you mean `{near}`? {are} {all}"),
        None if known.is_empty() => "nothing may stand here".into(),
        None => format!("{are} {all}"),
    }
}

/// What stands at a token, for a message.
pub fn found(scan: &Scan, token: usize) -> String {
    match scan.text(token) {
        "" => "nothing".into(),
        text if text.starts_with('"') => crate::model::spot::shown(text),
        text => format!("`{}`", crate::model::spot::shown(text)),
    }
}
