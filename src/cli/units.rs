//! `baywright units TEXT...`

use std::process::ExitCode;

use serde::Serialize;

use super::print::{CANNOT, complain, say};
use crate::report::json::{tidy, to_text};
use crate::units::{FeetInches, feet_inches, format_mm_exact, parse_length};

/// Parts of an inch lengths are printed in.
const PARTS: [u32; 2] = [16, 32];

#[derive(Serialize)]
struct Read {
    text: String,
    mm: Option<f64>,
    feet_inches: Vec<Printed>,
    error: Option<String>,
}

#[derive(Serialize)]
struct Printed {
    text: String,
    error_mm: f64,
}

pub(super) fn run(lengths: &[String], json: bool) -> ExitCode {
    let read: Vec<Read> = lengths.iter().map(|t| one(t)).collect();
    let bad = read.iter().any(|r| r.error.is_some());
    let answer = if json {
        to_text(&read)
    } else {
        read.iter().filter_map(|r| r.error.as_ref()).for_each(|error| complain(error));
        read.iter().filter_map(|r| Some(line(r, r.mm?))).collect()
    };
    say(&answer, if bad { ExitCode::from(CANNOT) } else { ExitCode::SUCCESS })
}

fn one(text: &str) -> Read {
    match parse_length(text) {
        Ok(mm) => Read {
            text: text.into(),
            mm: Some(tidy(mm)),
            feet_inches: PARTS
                .iter()
                .map(|parts| {
                    let FeetInches { text, error_mm } = feet_inches(mm, *parts);
                    Printed { text, error_mm: tidy(error_mm) }
                })
                .collect(),
            error: None,
        },
        Err(error) => {
            Read { text: text.into(), mm: None, feet_inches: Vec::new(), error: Some(error.to_string()) }
        }
    }
}

fn line(read: &Read, mm: f64) -> String {
    let printed: Vec<String> = read
        .feet_inches
        .iter()
        .map(|p| {
            format!(
                "{} ({}{} mm)",
                p.text,
                if p.error_mm < 0.0 { "-" } else { "+" },
                format_mm_exact(p.error_mm.abs(), 2)
            )
        })
        .collect();
    format!("{} = {} mm = {}\n", read.text, format_mm_exact(mm, 4), printed.join(" or "))
}
