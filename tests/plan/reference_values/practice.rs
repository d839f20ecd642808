//! Topics 7 and 8, and what the chat says of the others: rules of safe work, told in the product's words.

use crate::common::Answers;

use lapwise::book::Book;
use lapwise::export::ask::{Asking, ask_json};
use lapwise::roofing::checks::methods::access::ladder;
use lapwise::roofing::plan::{plan, stops};
use lapwise::roofing::roof::FactKey;
use lapwise::roofing::rules::Figure;
use lapwise::units::{Angle, Length, UsualUnit};
use serde_json::{Value, json};

use super::{metres, number, numbers, text};

/// What the shipped book answers to a question, for a roof.
fn answer(book: &Book, roof: &Answers, says: &str) -> String {
    let asking = Asking {
        understander: book.topics.understander(),
        asks: &book.asks,
        handbook: &book.handbook,
        words: &book.words,
        language: "en",
        unit: UsualUnit::M,
    };
    ask_json(&asking, &roof.0, says)["text"].as_str().expect("an answer").to_owned()
}

/// Whether the product says or plans what a case asks; `None` where no case of that id is known here.
pub(super) fn met(case: &Value) -> Option<bool> {
    let (id, expected) = (text(case, "id"), &case["expected"]);
    if !["SAFE-001", "SAFE-003", "SAFE-005", "SAFE-011", "SAFE-015", "SAFE-020", "SAFE-023"].contains(&id) {
        return None;
    }
    let book = Book::shipped();
    let figure = |figure: Figure| book.handbook.rules.practice(figure).expect("a figure of the book");
    let shed = Answers::shed().choose(FactKey::Sheet, "fennick-sheet-2000");
    let cautions = |roof: &Answers| -> String {
        let planned = plan(&roof.0, &book.handbook).expect("a plan");
        let said = planned.cautions.iter().map(|one| book.words.say("en", &one.note, UsualUnit::M));
        said.collect::<Vec<_>>().join("\n")
    };
    Some(match id {
        // Out at the foot by one in so many is at most a degree from the published slope.
        "SAFE-001" => {
            let up = Length::from_mm(figure(Figure::LadderOneIn).count());
            let leans = Angle::from_rise_run(up, Length::from_mm(1)).expect("an angle");
            (leans.deg() - expected.as_f64().expect("degrees")).abs() < 1.0
        }
        "SAFE-003" => {
            // "1 in 4 rule: base distance for a 2.6 m support height"
            let one_in = figure(Figure::LadderOneIn).count();
            let height = *numbers(text(case, "quantity")).last().expect("a height");
            let stands = ladder(metres(height), one_in, Length::ZERO).expect("a ladder");
            (stands.foot.mm() / 1_000.0 - expected.as_f64().expect("metres")).abs() < 1e-6
        }
        "SAFE-005" => {
            let least = Length::from_inches_f64(12.0).expect("a foot") * expected.as_i64().expect("feet");
            figure(Figure::LadderOverEdge).length() >= least
                && answer(&book, &shed, "how long a ladder do i need").contains("1 m above")
        }
        "SAFE-011" => cautions(&shed)
            .contains("Treat every roof as fragile until somebody competent has said it is not"),
        "SAFE-015" => {
            let most = figure(Figure::WindMost).speed();
            let off = Length::from_um(most.um_per_second()).mm() / 1_000.0 - number(expected, "m_s");
            json!(most.mph()) == expected["mph"]
                && off.abs() < 0.05
                && cautions(&shed).contains(&format!("{} mph", expected["mph"]))
                && answer(&book, &shed, "how much wind is too much")
                    .contains(&format!("{} mph", expected["mph"]))
        }
        "SAFE-020" => {
            let old = Answers::shed().choose(FactKey::CoveringNow, "grey_cement_sheets");
            let stops = stops(&old.0, &book.handbook);
            let said = stops.iter().map(|stop| book.words.say("en", &stop.note, UsualUnit::M));
            said.collect::<String>().contains("fitted before 2000")
        }
        "SAFE-023" => cautions(&shed).contains("Do not work alone"),
        other => panic!("no test knows what to do with {other:?}"),
    })
}
