//! What somebody on the ladder waits for: an answer, and a change with all that follows. Each is a whole turn, from
//! the words that were typed to the words that are said.

#[path = "../support/talking.rs"]
mod talking;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::conversation::turn;
use talking::{Chat, content, guide};

const SHED: &str = "hi|felt|sound|none|single|25 degrees|rafters|600|3m|2.4m|no|none|left|demo|yes|start the work|done|done|done|purlins are all in";
const BARN: &str = "hi|nothing|sound|none|two slopes|the same|17.5 degrees|rafters|900|20m|5m|none|right|demo|yes|start the work|done|done|purlins are all in";

fn on_the_job(criterion: &mut Criterion) {
    for (roof, said) in [("shed", SHED), ("barn", BARN)] {
        let chat = Chat::after(said.split('|'));
        for (name, message) in [
            ("answer", "how much do the sheets overlap top to bottom"),
            ("change", "it's 12 degrees really"),
            ("spoilt", "cut one wrong"),
        ] {
            let message = content(message);
            criterion.bench_function(&format!("job/{name}/{roof}"), |bench| {
                bench.iter(|| turn(&guide(), black_box(&chat.session), black_box(&message)));
            });
        }
    }
}

criterion_group!(benches, on_the_job);
criterion_main!(benches);
