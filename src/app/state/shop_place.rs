//! The places of the window.

/// What the window shows below its first row.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(crate) enum ShopPlace {
    /// The open job on its plan.
    #[default]
    Plan,
    Jobs,
    Bays,
    Vehicles,
    Procedures,
    Equipment,
    /// Workshops and jobs of earlier days, and where a new workshop is made.
    Start,
}

impl ShopPlace {
    /// The places of a workshop, in the order of the header.
    pub(crate) const OF_THE_SHOP: [ShopPlace; 5] =
        [ShopPlace::Jobs, ShopPlace::Bays, ShopPlace::Vehicles, ShopPlace::Procedures, ShopPlace::Equipment];

    pub(crate) fn words(self) -> &'static str {
        match self {
            ShopPlace::Plan => "Plan",
            ShopPlace::Jobs => "Jobs",
            ShopPlace::Bays => "Bays",
            ShopPlace::Vehicles => "Vehicles",
            ShopPlace::Procedures => "Procedures",
            ShopPlace::Equipment => "Equipment",
            ShopPlace::Start => "Workshops",
        }
    }
}

/// What is typed about a workshop that is to be made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct ShopDraft {
    pub name: String,
    pub folder: String,
    /// The demonstration's vehicles, equipment and procedures do not come along.
    pub bare: bool,
}
