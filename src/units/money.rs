//! Money: an exact decimal amount in a named currency.

use rust_decimal::Decimal;

use super::Length;

/// A currency by its three-letter code (ISO 4217).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Currency([u8; 3]);

impl Currency {
    /// From a code such as `GBP`; `None` unless it is three capital letters.
    pub fn from_code(code: &str) -> Option<Self> {
        let bytes: [u8; 3] = code.as_bytes().try_into().ok()?;
        bytes.iter().all(u8::is_ascii_uppercase).then_some(Self(bytes))
    }

    /// The three-letter code.
    pub fn code(&self) -> &str {
        // Only capital ASCII letters get in, so this cannot fail; the fallback keeps it free of panics.
        std::str::from_utf8(&self.0).unwrap_or("???")
    }
}

/// An exact amount of money.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Money {
    /// How much, in the currency's main unit.
    pub amount: Decimal,
    /// Of what.
    pub currency: Currency,
}

impl Money {
    /// The price of `count` of something at this price; `None` if the sum overflows.
    pub fn times(self, count: i64) -> Option<Self> {
        let amount = self.amount.checked_mul(Decimal::from(count))?;
        Some(Self { amount, ..self })
    }

    /// The price of this length where this is the price of a metre; `None` if the sum overflows.
    pub fn of_length(self, length: Length) -> Option<Self> {
        let metres = Decimal::new(length.um(), 6);
        let amount = self.amount.checked_mul(metres)?.normalize();
        Some(Self { amount, ..self })
    }

    /// The sum, where both are in one currency; `None` otherwise.
    pub fn plus(self, other: Self) -> Option<Self> {
        if self.currency != other.currency {
            return None;
        }
        let amount = self.amount.checked_add(other.amount)?;
        Some(Self { amount, ..self })
    }
}
