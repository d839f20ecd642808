//! Purlins from rafter to rafter: bent both ways by a person, by snow and by wind, and how far they sag.

use super::check::{Check, CheckKind, MOST, Roof, percent, sheets_weigh, weight_of};
use super::methods::timber::{
    Duration, GAMMA_PERMANENT, GAMMA_VARIABLE, Grade, Material, PERSON, Section, ServiceClass, bending_use,
    depth_factor, design_strength, final_deflection, gamma_m, grade, k_def, k_mod, sag_of_one_span,
    shear_use,
};
use super::place::snow::{self, Snow};
use super::place::suction::Suction;
use super::place::{Open, Place};
use crate::roofing::catalogue::{Catalogue, Timber};
use crate::roofing::laid::SlopePlan;
use crate::roofing::layout::SupportPlan;
use crate::roofing::note::Note;
use crate::roofing::roof::{Base, Site};
use crate::roofing::rules::{Basis, RuleBook};
use crate::units::physical::{Force, LineLoad, Moment, Pressure};
use crate::units::{Angle, Length};

/// kcr of solid timber in shear: EN 1995-1-1 6.1.7(2).
const CRACKED: f64 = 0.67;

/// What a straight timber carries from support to support, as a beam of one span.
#[derive(Clone, Copy, Debug)]
pub(super) struct Beam<'a> {
    pub(super) section: Section,
    pub(super) grade: &'a Grade,
    pub(super) span: Length,
    /// The strip of roof it carries.
    pub(super) strip: Length,
    /// What always lies on it: of the roof on each square metre of slope, and of itself along each metre.
    pub(super) roof_weight: Pressure,
    pub(super) own_weight: f64,
    /// How far its own depth leans from straight down; zero for a rafter, whose depth stands upright in its plane.
    pub(super) leans: Angle,
    pub(super) class: ServiceClass,
    pub(super) sag_one_in: f64,
}

/// What each load uses of a beam.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Uses {
    pub(super) person: f64,
    pub(super) snow: f64,
    pub(super) wind: f64,
    pub(super) sag: f64,
}

impl Uses {
    pub(super) const fn most(self) -> f64 {
        self.person.max(self.snow).max(self.wind).max(self.sag)
    }

    /// Puts them into a sum: how bending adds up under what weighs down, and under the wind that lifts.
    pub(super) fn tell(self, check: &mut Check, weighed: &'static str, lifted: &'static str) {
        check.step("sum-use-person", "η", weighed, self.person, "");
        check.step("sum-use-snow", "η", weighed, self.snow, "");
        check.step("sum-use-wind", "η", lifted, self.wind, "");
        check.step("sum-use-sag", "η", "wfin / (L / n)", self.sag, "");
        check.uses(self.most());
    }
}

impl Beam<'_> {
    /// What always lies along it, in N/m.
    fn dead(&self) -> LineLoad {
        self.roof_weight.over(self.strip) + LineLoad::from_n_per_m(self.own_weight)
    }

    /// Bent by a line load: the hardest moment and shear of one span.
    fn bent(&self, line: LineLoad) -> (Moment, Force) {
        let whole = line.along(self.span);
        (whole.times(self.span / 8), whole * 0.5)
    }

    /// How much of bending and shear this moment and shear use, at a load that lasts so long.
    pub(super) fn used(&self, moment: Moment, shear: Force, lasts: Duration) -> f64 {
        let Some(k_mod) = k_mod(Material::Solid, self.class, lasts) else { return f64::INFINITY };
        let safe = gamma_m(Material::Solid);
        let bending = |depth: Length| design_strength(self.grade.bending * depth_factor(depth), k_mod, safe);
        let strengths = (bending(self.section.depth), bending(self.section.width));
        let (strong, weak) = (moment * self.leans.cos(), moment * self.leans.sin());
        let bent = bending_use(self.section, strong, weak, strengths).worst();
        let shorn = shear_use(self.section, shear, CRACKED, design_strength(self.grade.shear, k_mod, safe));
        bent.max(shorn)
    }

    /// A person of 1 kN in the middle, and the roof's own weight. Nobody walks in a storm or over deep snow.
    pub(super) fn under_a_person(&self) -> (Moment, Force) {
        let (moment, shear) = self.bent(self.dead() * GAMMA_PERMANENT);
        let person = PERSON * GAMMA_VARIABLE;
        (moment + person.times(self.span / 4), shear + person)
    }

    /// Snow on the slope, straight down on each square metre of it, and the roof's own weight.
    fn under_snow(&self, on_slope: Pressure) -> (Moment, Force) {
        self.bent(self.dead() * GAMMA_PERMANENT + on_slope.over(self.strip) * GAMMA_VARIABLE)
    }

    /// Deflection under a line load, straight into the roof.
    fn sags(&self, line: LineLoad) -> Length {
        sag_of_one_span(line * self.leans.cos(), self.span, self.section.stiffness(self.grade.stiffness))
    }

    /// What each load uses.
    pub(super) fn uses(&self, on_slope: Pressure, lift: Pressure) -> Uses {
        let (moment, shear) = self.under_a_person();
        let person = self.used(moment, shear, Duration::Short);
        let (moment, shear) = self.under_snow(on_slope);
        let snow = self.used(moment, shear, Duration::Short);
        let up = lift.over(self.strip) * GAMMA_VARIABLE - self.dead() * (0.9 * self.leans.cos());
        let (moment, shear) = self.bent(up.max(LineLoad::ZERO));
        let straight = Beam { leans: Angle::ZERO, ..*self };
        let wind = straight.used(moment, shear, Duration::Instantaneous);
        let creep = k_def(Material::Solid, self.class).unwrap_or(2.0);
        let sag = final_deflection(self.sags(self.dead()), self.sags(on_slope.over(self.strip)), 0.0, creep);
        let sag = sag.mm() * self.sag_one_in / self.span.mm().max(1.0);
        Uses { person, snow, wind, sag }
    }
}

/// Under a roof, unless the wind drives rain below it.
pub(super) const fn service(place: &Place<'_>) -> ServiceClass {
    match place.open {
        Open::Closed | Open::OneSide => ServiceClass::Covered,
        Open::Canopy => ServiceClass::Exposed,
    }
}

/// What comes onto the purlins of a slope.
pub(super) struct Loads {
    pub(super) snow: Snow,
    /// Straight down, on each square metre of slope.
    pub(super) on_slope: Pressure,
    suction: Option<Suction>,
    pitch: Angle,
    roof_weight: Pressure,
    class: ServiceClass,
    sag_one_in: f64,
}

impl Loads {
    pub(super) fn on(place: &Place<'_>, site: &Site, index: usize, rules: &RuleBook) -> Self {
        let slope = site.slopes.get(index).or(site.slopes.first());
        let pitch = slope.map_or(Angle::ZERO, |slope| slope.pitch.value);
        let snow = snow::on(place, site, index, rules);
        let laps = rules.basis(Basis::Laps).unwrap_or_default();
        Self {
            snow,
            on_slope: snow.most * pitch.cos(),
            suction: Suction::of(place, site, index),
            pitch,
            roof_weight: sheets_weigh(&site.sheet, site.covering.stock, laps),
            class: service(place),
            sag_one_in: rules.basis(Basis::SagOneIn).unwrap_or(200.0),
        }
    }

    /// How hard the wind lifts a timber that carries this strip over this span.
    pub(super) fn lift(&self, strip: Length, span: Length) -> Pressure {
        let Some(suction) = &self.suction else { return Pressure::ZERO };
        suction.peak * suction.over(strip.by(span))
    }

    /// A purlin as a beam; `None` where its class is none that is known.
    pub(super) fn purlin(&self, timber: &Timber, span: Length, strip: Length) -> Option<Beam<'static>> {
        Some(Beam {
            section: Section { width: timber.width, depth: timber.depth },
            grade: grade(timber.class.as_deref()?)?,
            span,
            strip,
            roof_weight: self.roof_weight,
            own_weight: weight_of(timber.mass_per_m),
            leans: self.pitch,
            class: self.class,
            sag_one_in: self.sag_one_in,
        })
    }
}

/// What every timber of the catalogue is used by as a purlin over this span, each carrying this strip; those of no known
/// class are left out.
pub(super) fn each<'g>(
    loads: &Loads,
    goods: &'g Catalogue,
    span: Length,
    strip: Length,
) -> Vec<(&'g Timber, f64)> {
    let lift = loads.lift(strip, span);
    let timbers = goods.timbers.iter();
    timbers
        .filter_map(|timber| {
            Some((timber, loads.purlin(timber, span, strip)?.uses(loads.on_slope, lift).most()))
        })
        .collect()
}

/// Whether a use is within what there is.
pub(super) fn holds(used: f64) -> bool {
    used <= MOST
}

/// The purlins of a laid slope.
pub(super) fn check(roof: &Roof<'_>, place: &Place<'_>, index: usize, laid: &SlopePlan) -> Option<Check> {
    if laid.support != SupportPlan::Purlins || roof.site.base != Base::Rafters {
        return None;
    }
    let named = laid.purlin_timber.as_ref()?;
    let timber = roof.goods.timbers.iter().find(|timber| timber.item.id == *named)?;
    let loads = Loads::on(place, roof.site, index, roof.rules);
    let span = roof.rules.length_band(roof.site.timber_spacing).1;
    let gaps = laid.lines.iter().zip(laid.lines.iter().skip(1)).map(|(below, above)| above.y - below.y);
    let strip = gaps.max().unwrap_or_default();
    let beam = loads.purlin(timber, span, strip)?;
    let uses = beam.uses(loads.on_slope, loads.lift(strip, span));
    let mut check = Check::new(CheckKind::Purlins, Some(index));
    told(&mut check, &beam, &loads, uses);
    let note = Note::new("check-purlins-says")
        .text("timber", timber.item.name.as_str())
        .length("spacing", span)
        .with("used", percent(uses.most()))
        .word("by", hardest(uses));
    check.says.push(note);
    check.snow_carried = Some(carried(&beam, &loads));
    if check.is_overused() {
        check.finds = super::Finds::Beyond;
    }
    Some(check)
}

/// The most snow on plan that a purlin carries, in strength and sag: every use grows straight with the snow.
fn carried(beam: &Beam<'_>, loads: &Loads) -> Pressure {
    let bare = beam.uses(Pressure::ZERO, Pressure::ZERO);
    let laden = beam.uses(loads.on_slope.max(Pressure::from_pa(1.0)), Pressure::ZERO);
    let on_plan = loads.snow.most.max(Pressure::from_pa(1.0));
    let grows = |none: f64, some: f64| if some > none { (1.0 - none) / (some - none) } else { f64::INFINITY };
    let times = grows(bare.snow, laden.snow).min(grows(bare.sag, laden.sag)).clamp(0.0, 1_000.0);
    on_plan * times
}

/// The message that names what a beam is used by most.
pub(super) fn hardest(uses: Uses) -> &'static str {
    let all = [
        (uses.person, "check-load-person"),
        (uses.snow, "check-load-snow"),
        (uses.wind, "check-load-wind"),
        (uses.sag, "check-load-sag"),
    ];
    all.into_iter().max_by(|a, b| a.0.total_cmp(&b.0)).map_or("check-load-person", |(_, word)| word)
}

/// The sum of a purlin, line by line.
fn told(check: &mut Check, beam: &Beam<'_>, loads: &Loads, uses: Uses) {
    check.step("sum-span", "L", "", beam.span.mm() / 1e3, "m");
    check.step("sum-strip", "a", "", beam.strip.mm() / 1e3, "m");
    check.step("sum-width", "b", "", beam.section.width.mm(), "mm");
    check.step("sum-depth", "h", "", beam.section.depth.mm(), "mm");
    check.step("sum-bending-strength", "fm,k", "", beam.grade.bending.n_per_mm2(), "N/mm²");
    let k_mod = k_mod(Material::Solid, beam.class, Duration::Short).unwrap_or_default();
    check.step("sum-k-mod", "kmod", "", k_mod, "");
    check.step("sum-k-h", "kh", "(150 / h)^0.2 ≤ 1.3", depth_factor(beam.section.depth), "");
    check.step("sum-weight", "g", "", beam.roof_weight.pa() / 1e3, "kN/m²");
    check.step("sum-snow-on-slope", "s cos α", "", loads.on_slope.pa() / 1e3, "kN/m²");
    let (moment, _) = beam.under_a_person();
    check.step("sum-moment-person", "Md", "γG g L² / 8 + γQ Qk L / 4", moment.nm() / 1e3, "kNm");
    uses.tell(check, "σm,y / fm,y,d + km σm,z / fm,z,d", "σm,y / fm,y,d");
}
