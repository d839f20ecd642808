//! Papers: the roof pack and the supplier sheet, read back by other programs.

#[path = "../common/mod.rs"]
mod common;
#[path = "../drawings/roofs.rs"]
mod roofs;
#[path = "../drawings/words.rs"]
mod words;

use lapwise::drawing::document::Paper;
use lapwise::export::pack::{self, PackOrder};
use lapwise::export::supplier::SupplierSheet;
use lapwise::render::pdf;

#[test]
fn look() {
    let english = words::English::shipped();
    let only = std::env::var("ONLY").unwrap_or_default();
    for (name, answers) in roofs::all().into_iter().filter(|(name, _)| name.contains(&only)) {
        let plan = roofs::planned(&answers, &english.0.handbook);
        let facts = [("Slope".to_owned(), "25°".to_owned()), ("Along the eaves".to_owned(), "2400 mm".to_owned())];
        let order = PackOrder { facts: &facts, date: "2026-11-25", language: "en", paper: Paper::A4 };
        let document = pack::document(&plan, &english.0.handbook, &english, order);
        std::fs::write(format!("/tmp/look/{name}-pack.pdf"), pdf::write(&document).unwrap()).unwrap();
        let sheet = SupplierSheet::of_plan(&plan, &english.0.handbook.catalogue, "2026-11-25");
        std::fs::write(format!("/tmp/look/{name}-supplier.csv"), sheet.csv()).unwrap();
        let document = sheet.document(&english, "en", Paper::Letter);
        std::fs::write(format!("/tmp/look/{name}-supplier.pdf"), pdf::write(&document).unwrap()).unwrap();
    }
}
