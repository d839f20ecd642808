//! The supplier sheet as CSV: RFC 4180, lines ended by CR LF, in UTF-8. What is said of the whole list stands in every
//! row, so that any program reads it and a row that is copied still says which list it is of.

use super::SupplierSheet;

/// The first line. `price`, `in_stock` and `note` are empty, for the supplier to fill.
const HEAD: [&str; 25] = [
    "item",
    "name",
    "details",
    "or_equal",
    "length_mm",
    "width_mm",
    "corrugations",
    "wave_pitch_mm",
    "wave_height_mm",
    "cut_to_mm",
    "pieces",
    "spare",
    "pack",
    "packs",
    "mass_g",
    "mass_is",
    "list_price",
    "currency",
    "price",
    "in_stock",
    "note",
    "order",
    "date",
    "version",
    "notice",
];

impl SupplierSheet {
    /// As CSV.
    pub fn csv(&self) -> String {
        let mut csv = format!("{}\r\n", HEAD.join(","));
        for line in &self.lines {
            let cuts = line.cuts.iter().map(|cut| format!("{} x {}", cut.pieces, cut.length_mm));
            let fields: [String; HEAD.len()] = [
                line.item.clone(),
                line.name.clone(),
                line.details.join("; "),
                line.or_equal.clone(),
                written(line.length_mm),
                written(line.width_mm),
                written(line.corrugations),
                written(line.wave_pitch_mm),
                written(line.wave_height_mm),
                cuts.collect::<Vec<_>>().join("; "),
                line.pieces.to_string(),
                line.spare.to_string(),
                line.pack.to_string(),
                line.packs.to_string(),
                line.mass_g.to_string(),
                if line.mass_by_size { "by size" } else { "listed" }.to_owned(),
                line.list_price.clone().unwrap_or_default(),
                line.list_price.as_ref().map(|_| self.currency.clone()).unwrap_or_default(),
                String::new(),
                String::new(),
                String::new(),
                self.reference.clone(),
                self.date.clone(),
                self.version.clone(),
                self.notice.clone(),
            ];
            csv.push_str(&fields.map(|text| field(&text)).join(","));
            csv.push_str("\r\n");
        }
        csv
    }
}

fn written<T: ToString>(figure: Option<T>) -> String {
    figure.map(|figure| figure.to_string()).unwrap_or_default()
}

/// One field: quoted where it must be, and never a formula to the program that opens it.
fn field(text: &str) -> String {
    let is_formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let text = if is_formula { format!("'{text}") } else { text.to_owned() };
    if text.contains(['"', ',', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_quoted_where_it_must_be_and_never_a_formula() {
        assert_eq!(field("Fennick demo nail"), "Fennick demo nail");
        assert_eq!(field("nail, 45 \"mm\""), "\"nail, 45 \"\"mm\"\"\"");
        assert_eq!(field("=1+1"), "'=1+1");
        assert_eq!(field("two\r\nlines"), "\"two\r\nlines\"");
    }
}
