//! The plan: rules, layout, cuts, words and what lasts, by cases, properties and proven optima.

#[path = "../support/books.rs"]
mod books;
#[path = "../support/common.rs"]
mod common;
#[path = "../support/cutting.rs"]
mod cutting;
#[path = "../support/goldens.rs"]
mod goldens;
#[path = "../support/guide.rs"]
mod guide;

mod checks;
mod contradictions;
mod coverings;
mod cutting_properties;
mod holding;
mod lasting;
mod layout_optima;
mod method_properties;
mod plan_properties;
mod plan_words;
mod plans;
mod plans_of_roofs;
mod reading_properties;
mod reference_values;
mod small_things;
