//! The neutral density inside a camera.

use crate::quantity::{Density, Stops};

/// One position of an internal wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelPosition {
    /// Visible density.
    pub density: Density,
    /// Infrared density; taken to be none where nobody knows, as of any neutral
    /// density.
    pub infrared: Option<Density>,
}

impl WheelPosition {
    /// A position whose infrared density nobody knows.
    #[must_use]
    pub const fn of(density: Density) -> Self {
        Self {
            density,
            infrared: None,
        }
    }

    /// What it takes of visible light.
    #[must_use]
    pub fn stops(self) -> Stops {
        self.density.stops()
    }

    /// What it takes of infrared.
    #[must_use]
    pub fn infrared(self) -> Stops {
        self.infrared.map_or(Stops::ZERO, Density::stops)
    }

    /// How much less infrared than visible light it takes.
    #[must_use]
    pub fn excess(self) -> Stops {
        self.stops() - self.infrared()
    }
}
