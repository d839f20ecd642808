//! What a measurement in doubt may really be.

use super::{DoubtBand, RuleBook};
use crate::units::{Angle, Doubt, Length, Measured};

impl RuleBook {
    /// The lowest and the highest this angle may really be.
    pub fn angle_band(&self, angle: Measured<Angle>) -> (Angle, Angle) {
        let (below, above) = self.worth(angle.doubt);
        let least = |band: Option<&DoubtBand>| band.map_or(Angle::ZERO, |band| band.angle);
        ((angle.value - least(below)).max(Angle::ZERO), angle.value + least(above))
    }

    /// The shortest and the longest this length may really be.
    pub fn length_band(&self, length: Measured<Length>) -> (Length, Length) {
        let (below, above) = self.worth(length.doubt);
        let share = |band: Option<&DoubtBand>| {
            band.map_or(Length::ZERO, |band| length.value * band.length_per_mille / 1_000)
        };
        (length.value - share(below), length.value + share(above))
    }

    /// What a doubt is worth downwards and upwards.
    fn worth(&self, doubt: Doubt) -> (Option<&DoubtBand>, Option<&DoubtBand>) {
        match doubt {
            Doubt::Stated => (None, None),
            Doubt::About => (Some(&self.about), Some(&self.about)),
            Doubt::JustUnder => (Some(&self.about), None),
            Doubt::JustOver => (None, Some(&self.about)),
            Doubt::ByPhone => (Some(&self.by_phone), Some(&self.by_phone)),
        }
    }
}
