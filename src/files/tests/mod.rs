//! Whole files read, broken and saved.

mod broken;
mod doubts;
mod every_part;
mod jobs;
mod names;
mod procedures;
mod samples;
mod saving;
mod written;

use std::path::Path;

use super::fault::FileFault;
use super::kind::{Kind, kind_of};
use super::read::Read;
use super::source::Source;
use crate::model::{Bay, Equipment, Job, Procedure, Vehicle, Workshop};

/// The faults of a text read as what it seems to be, each as "line:column: text".
fn faults(text: &str) -> Vec<String> {
    let faults = faults_as(kind_of(text).unwrap_or(Kind::Bay), text);
    faults.iter().map(|f| format!("{}:{}: {}", f.line, f.column, f.text)).collect()
}

fn faults_as(kind: Kind, text: &str) -> Vec<FileFault> {
    let source = Source::new(Path::new("x.ron"), text);
    match kind {
        Kind::Bay => Read::<Bay>::new(&source).faults,
        Kind::Vehicle => Read::<Vehicle>::new(&source).faults,
        Kind::Equipment => Read::<Equipment>::new(&source).faults,
        Kind::Procedure => Read::<Procedure>::new(&source).faults,
        Kind::Job => Read::<Job>::new(&source).faults,
        Kind::Workshop => Read::<Workshop>::new(&source).faults,
    }
}
