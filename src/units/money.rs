//! Money: an exact decimal amount in a named currency.

use std::str::FromStr as _;

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

/// The most that is read as a price, in the currency's main unit; more is a slip of the finger.
const MOST_READ: i64 = 1_000_000;

impl Money {
    /// Reads an amount as people write it: `12.50`, `£1,250`, `12,50 GBP`. `None` where it is no amount, is of another
    /// currency, is negative, over a million, or finer than a penny.
    pub fn read(text: &str, currency: Currency) -> Option<Self> {
        if Self::is_of_another(text, currency) {
            return None;
        }
        let digits: String = text.trim_matches(is_no_figure).split_whitespace().collect();
        let plain = match digits.rsplit_once(',') {
            // A comma before two last digits parts the pence, before three it groups thousands.
            Some((pounds, pence)) if pence.len() == 2 && !pounds.contains([',', '.']) => {
                format!("{pounds}.{pence}")
            }
            Some(_) if !is_grouped(&digits) => return None,
            Some(_) | None => digits.replace(',', ""),
        };
        let written = plain.starts_with(|c: char| c.is_ascii_digit())
            && plain.chars().all(|c| c.is_ascii_digit() || c == '.');
        let amount = Decimal::from_str(&plain).ok().filter(|_| written)?;
        let fits = amount.scale() <= 2 && amount <= Decimal::from(MOST_READ);
        fits.then_some(Self { amount, currency })
    }

    /// Whether a text names a currency beside an amount, and another one than this.
    pub fn is_of_another(text: &str, currency: Currency) -> bool {
        let text = text.trim().trim_end_matches('.');
        let figures = text.trim_matches(is_no_figure);
        let Some((before, after)) = text.split_once(figures).filter(|_| !figures.is_empty()) else {
            return false;
        };
        [before, after].iter().any(|named| {
            let named = named.trim().to_lowercase();
            let known = SIGNS.iter().find(|(code, _)| *code == currency.code());
            let is_its_code = named.eq_ignore_ascii_case(currency.code());
            !named.is_empty()
                && !is_its_code
                && !known.is_some_and(|(_, signs)| signs.contains(&named.as_str()))
        })
    }

    /// From thousandths of the currency's main unit.
    pub fn from_thousandths(thousandths: i64, currency: Currency) -> Self {
        Self { amount: Decimal::new(thousandths, 3).normalize(), currency }
    }

    /// In thousandths of the currency's main unit, what is finer cut off; `None` beyond all sums.
    pub fn thousandths(self) -> Option<i64> {
        self.amount.checked_mul(Decimal::from(1_000))?.trunc().try_into().ok()
    }

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

/// How the commonest currencies are named, by their code.
const SIGNS: [(&str, &[&str]); 3] = [
    ("GBP", &["£", "pounds", "pound", "quid"]),
    ("EUR", &["€", "euros", "euro"]),
    ("USD", &["$", "us$", "dollars", "dollar"]),
];

/// What stands about an amount and is none of its figures.
fn is_no_figure(c: char) -> bool {
    !c.is_ascii_digit() && !matches!(c, '-' | '+' | ',' | '.')
}

/// Whether commas stand before groups of three digits only.
fn is_grouped(digits: &str) -> bool {
    let whole = digits.split_once('.').map_or(digits, |(whole, _)| whole);
    let mut groups = whole.split(',');
    groups.next().is_some_and(|first| (1..=3).contains(&first.len())) && groups.all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_read_as_people_write_them() {
        let pounds = Currency::from_code("GBP").unwrap();
        let read = |text| Money::read(text, pounds).map(|money| money.amount.to_string());
        for (text, amount) in [
            ("12.50", Some("12.50")),
            (" £ 12.5 ", Some("12.5")),
            ("12,50", Some("12.50")),
            ("1,250", Some("1250")),
            ("£1,250.00", Some("1250.00")),
            ("0", Some("0")),
            ("1,2,3", None),
            ("12.505", None),
            ("-5", None),
            ("5e3", None),
            ("twelve", None),
            ("", None),
            ("2000000", None),
            ("12.50 GBP", Some("12.50")),
            ("gbp 12", Some("12")),
            ("12 pounds", Some("12")),
            ("$12", None),
            ("12 €", None),
            ("12 EUR", None),
            ("US$ 12", None),
            ("¥1200", None),
            ("12 kr", None),
        ] {
            assert_eq!(read(text).as_deref(), amount, "{text}");
        }
    }

    #[test]
    fn another_currency_is_told_from_what_is_no_price() {
        let is_other = |text, code| Money::is_of_another(text, Currency::from_code(code).unwrap());
        for text in ["$12", "€ 12.50", "12 EUR", "12 kr."] {
            assert!(is_other(text, "GBP"), "{text}");
        }
        for text in ["£12", "12", "", "a lot", "12 pounds"] {
            assert!(!is_other(text, "GBP"), "{text}");
        }
        assert!(is_other("£12", "EUR") && !is_other("12 €", "EUR"));
    }
}
