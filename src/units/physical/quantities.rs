//! The quantities themselves: a number and what it is measured in.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $from:ident, $get:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// None of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From ", $unit, ".")]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("In ", $unit, ".")]
            pub const fn $get(self) -> f64 {
                self.0
            }

            /// The size without its sign.
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The larger of two.
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The smaller of two.
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, by: f64) -> Self {
                Self(self.0 / by)
            }
        }

        impl Div for $name {
            type Output = f64;
            /// How many of the other.
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                all.fold(Self::ZERO, Add::add)
            }
        }
    };
}

quantity!(
    /// Snow, wind, vapour: a force on an area, positive where it presses on the roof.
    Pressure, "N/m², which is Pa", from_pa, pa
);
quantity!(
    /// A push or a pull.
    Force, "N", from_n, n
);
quantity!(
    /// A load along a member.
    LineLoad, "N/m", from_n_per_m, n_per_m
);
quantity!(
    /// What bends.
    Moment, "N·m", from_nm, nm
);
quantity!(
    /// Stress, strength and stiffness of a material.
    Stress, "N/mm²", from_n_per_mm2, n_per_mm2
);
quantity!(
    /// How much a member resists being bent: E·I.
    Stiffness, "N·m²", from_nm2, nm2
);
quantity!(
    /// How heavy a material is.
    Density, "kg/m³", from_kg_per_m3, kg_per_m3
);
quantity!(
    /// Water that runs.
    Flow, "l/s", from_l_per_s, l_per_s
);
quantity!(
    /// How well a material conducts warmth.
    Conductivity, "W/(m·K)", from_w_per_mk, w_per_mk
);
quantity!(
    /// How well a layer keeps warmth.
    ThermalResistance, "m²K/W", from_m2k_per_w, m2k_per_w
);
quantity!(
    /// Water that gathers in a build-up.
    Moisture, "g/m²", from_g_per_m2, g_per_m2
);
