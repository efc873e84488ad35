//! What stands in a workshop's file.

use super::systems::SystemTable;
use crate::model::num;
use crate::model::procedure::Word;
use crate::model::record::{choice, record};
use crate::model::spot::{List, Name, Table};

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct Workshop as "a workshop" {
        pub format: u32 [or 1],
        pub name: Name,
        pub folders: ShopFolders [default],
        pub units: ShopUnits [default],
        pub tape: ShopTape [default],
        /// Initials offered in the record.
        pub people: List<Name> [default],
        /// Identification numbers and the vehicles they belong to; the first that agrees counts.
        pub identify: List<Identified> [default],
        /// By what a repair touches: the systems it asks for.
        pub touches: Table<Touched> [default],
        /// Vehicles a month, by vehicle file.
        pub coming_in: Table<f64> [default],
        pub money: Option<ShopMoney>,
        /// Checks of the gear that fall due.
        pub gear: List<GearCheck> [default],
        /// Least workplaces chosen by the shop, never mixed with what a procedure needs.
        pub legal: List<LegalPlace> [default],
    }
}

record! {
    /// Where the files are kept, relative to the workshop's folder.
    #[derive(Clone, Debug, PartialEq)]
    pub struct ShopFolders as "the folders" {
        pub bays: Name [or "bays".into()],
        pub vehicles: Name [or "vehicles".into()],
        pub equipment: Name [or "equipment".into()],
        pub procedures: Name [or "procedures".into()],
        pub jobs: Name [or "jobs".into()],
        pub records: Name [or "records".into()],
    }
}

impl Default for ShopFolders {
    fn default() -> Self {
        ShopFolders {
            bays: "bays".into(),
            vehicles: "vehicles".into(),
            equipment: "equipment".into(),
            procedures: "procedures".into(),
            jobs: "jobs".into(),
            records: "records".into(),
        }
    }
}

impl ShopFolders {
    /// Every folder with the name of its field.
    pub fn all(&self) -> [(&'static str, &Name); 6] {
        [
            ("bays", &self.bays),
            ("vehicles", &self.vehicles),
            ("equipment", &self.equipment),
            ("procedures", &self.procedures),
            ("jobs", &self.jobs),
            ("records", &self.records),
        ]
    }
}

choice! {
    /// How the shop reads lengths.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum ShopUnits {
        #[default]
        Metric,
        FeetInches,
    }
}

record! {
    /// The standard error of one tape reading: `error` and `per_metre` times the metres, added as squares, mm.
    #[derive(Clone, Copy, Debug, PartialEq)]
    pub struct ShopTape as "the tape" {
        pub error: f64 [or 2.0],
        pub per_metre: f64 [or 0.0],
    }
}

impl Default for ShopTape {
    fn default() -> Self {
        ShopTape { error: 2.0, per_metre: 0.0 }
    }
}

record! {
    /// Identification numbers of one kind of vehicle: `?` stands for one character, `*` for the rest.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Identified as "a kind of identification number" {
        pub pattern: Name,
        pub vehicle: Name,
        pub note: Option<String>,
    }
}

record! {
    /// What a repair asks for, and where that was read.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Touched as "what a repair touches" {
        pub systems: List<Word>,
        pub source: Option<String>,
    }
}

record! {
    /// What work costs and brings, in the shop's own currency.
    #[derive(Clone, Debug, PartialEq)]
    pub struct ShopMoney as "the money" {
        /// Of one hour of work.
        pub hour: f64 [is num::amount],
        pub in_house: SystemTable<InHouse> [default],
        pub sent_out: SystemTable<SentOut> [default],
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct InHouse as "work in house" {
        pub minutes: f64 [is num::amount],
        pub price: f64 [is num::amount],
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct SentOut as "work sent out" {
        pub price: f64 [is num::amount],
        pub days: f64 [default is num::amount],
    }
}

record! {
    #[derive(Clone, Debug, PartialEq)]
    pub struct GearCheck as "a check of the gear" {
        pub name: Name,
        pub every_days: u32,
    }
}

record! {
    /// Least sizes of a workplace, mm: across and along.
    #[derive(Clone, Debug, PartialEq)]
    pub struct LegalPlace as "a least workplace" {
        pub name: Name,
        pub source: Option<String>,
        pub ahead: Option<(f64, f64)> [opt num::sizes],
        pub whole: Option<(f64, f64)> [opt num::sizes],
        pub indoors: Option<(f64, f64)> [opt num::sizes],
    }
}
