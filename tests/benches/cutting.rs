//! How long the cutting takes: `cargo bench --bench cutting`.
//!
//! The last one is far from any roof: it runs out of steps, and so shows how long `Budget::ROOF` lasts.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lapwise::roofing::layout::cutting::{Budget, Laps, Slope, Stock, cut_with};
use lapwise::units::Length;

fn stock(length: i64, extra: i64) -> Stock {
    Stock {
        corrugations: 10,
        pitch: Length::from_mm(95),
        length: Length::from_mm(length),
        min_piece: Length::from_mm(300),
        max_extra_lap: Length::from_mm(extra),
        extra_side_lap: true,
    }
}

fn slope(width: i64, length: i64, gap: i64) -> Slope {
    let gaps = (length - 100 + gap - 1) / gap;
    Slope {
        width: Length::from_mm(width),
        length: Length::from_mm(length),
        lines: (0..=gaps).map(|line| Length::from_mm(50 + line * (length - 100) / gaps)).collect(),
        end_lap: Length::from_mm(170),
        side_lap: 1,
    }
}

fn cutting(criterion: &mut Criterion) {
    let cases = [
        ("shed 2.4 x 1.8 m", slope(2_410, 1_850, 455), stock(2_000, 0), Laps::Fewest),
        ("barn 20 x 10 m", slope(20_010, 10_050, 610), stock(2_000, 0), Laps::Fewest),
        ("barn, close purlins, extra lap", slope(19_973, 10_037, 455), stock(2_000, 150), Laps::Fewest),
        ("out of steps", slope(20_000, 10_000, 150), stock(6_000, 0), Laps::Any),
    ];
    for (name, slope, stock, laps) in cases {
        criterion.bench_function(name, |bencher| {
            bencher.iter(|| cut_with(black_box(&slope), &stock, laps, Budget::ROOF));
        });
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = cutting
}
criterion_main!(benches);
