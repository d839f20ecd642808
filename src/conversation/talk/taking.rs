//! Taking facts in, putting them back as a question, and offering what could be read in several ways.

use crate::conversation::ears::{Given, Interpretation, Sure};
use crate::conversation::event::{Answer, Change, Event, Offer};
use crate::conversation::interview::{Standing, question_for};
use crate::conversation::saying::{Draft, Line, asking, picking};
use crate::conversation::talk::Talk;
use crate::roofing::note::Note;
use crate::roofing::plan::Plan;
use crate::roofing::roof::FactKey;

impl Talk<'_, '_> {
    /// Takes facts in, says them back where that is due, and goes on; what is not sure is put back as a question.
    pub(in crate::conversation) fn take(&mut self, heard: &[Given]) {
        let before = self.current_plan();
        if self.took(heard) {
            self.go_on_from(before.as_ref());
        }
    }

    /// Takes facts in and says them back; `false` where that only made a proposal of them.
    pub(in crate::conversation) fn took(&mut self, heard: &[Given]) -> bool {
        for fact in heard {
            if let Some(usual) = fact.shows.filter(|_| self.session.usual().is_none()) {
                self.happen(Event::UnitsSeen { usual, chosen: false });
            }
        }
        if heard.iter().any(|fact| asking::is_suspect(fact.fact, &fact.value)) {
            self.happen(Event::Suspected);
        }
        let answers: Vec<_> = heard.iter().map(|fact| (fact.fact, fact.value.clone())).collect();
        if self.waits_for_yes(&answers) {
            // What was said again as it was is no change, unless it is all that was said.
            let same = |(fact, value): &Answer| self.session.facts().get(*fact) == Some(value);
            let news: Vec<Answer> = answers.iter().filter(|one| !same(one)).cloned().collect();
            if news.is_empty() {
                let mut draft = Draft::new("as-you-have-it");
                for fact in heard {
                    self.echo(fact);
                }
                draft.lines.push(Line::Paragraph(Note::new("as-you-have-it")));
                self.say(draft);
                self.carry_on();
            } else {
                self.propose_of_this_roof(news);
            }
            return false;
        }
        self.happen(Event::Answered(answers));
        for fact in heard.iter().filter(|fact| !asking::is_not_sure(&fact.value)) {
            self.echo(fact);
        }
        true
    }

    /// Proposes a change, unless it is of a part that this roof has not.
    fn propose_of_this_roof(&mut self, answers: Vec<Answer>) {
        match self.part_it_has_not(&answers) {
            Some(name) => {
                self.say_draft_and_go_on(Draft::of(Note::new("no-such-part").word("fact", name)));
            }
            None => self.propose(Change { answers, ..Change::default() }),
        }
    }

    /// The name of a part that the roof would not have with these answers either: a back slope where there is one.
    /// What keeps people safe is heard whatever the roof.
    fn part_it_has_not(&self, answers: &[Answer]) -> Option<String> {
        let facts = self.facts_with(answers);
        let ruled_out = |fact: FactKey| {
            let question = question_for(self.guide, fact);
            question.is_some_and(|question| question.when.iter().any(|guard| guard.rules_out(&facts)))
        };
        let mut parts = answers.iter().map(|(fact, _)| *fact).filter(|fact| !fact.is_safety());
        parts.find(|fact| ruled_out(*fact)).and_then(|fact| asking::name_of(self.guide, fact))
    }

    fn echo(&mut self, fact: &Given) {
        if let Some(value) = self.session.facts().get(fact.fact) {
            let echo = asking::echo(self.guide, self.session.usual(), fact, value);
            self.aside.push(echo);
        }
    }

    /// Takes what is sure, and puts back what is not.
    pub(in crate::conversation) fn take_and_put_back(&mut self, said: &Interpretation) {
        let unsure = said.unsure_facts();
        let sure = said.sure_facts();
        let put_back = unsure.iter().find(|given| self.open_fact() == Some(given.fact)).cloned();
        let before = self.current_plan();
        if self.is_known(&sure) && !unsure.is_empty() {
            return self.confirm(&unsure);
        }
        if !sure.is_empty() && !self.took(&sure) {
            return;
        }
        match put_back {
            Some(given) if self.is_lacking(given.fact) => self.confirm(&[given]),
            Some(_) | None => self.go_on_from(before.as_ref()),
        }
    }

    /// Whether every one of these is known so already.
    pub(in crate::conversation) fn is_known(&self, facts: &[Given]) -> bool {
        facts.iter().all(|given| self.session.facts().get(given.fact) == Some(&given.value))
    }

    fn open_fact(&self) -> Option<FactKey> {
        self.open_question().map(|question| question.fact)
    }

    fn is_lacking(&self, fact: FactKey) -> bool {
        match self.standing() {
            Standing::Ask(question) => question.fact == fact,
            Standing::Stopped(_, question) => question.is_some_and(|question| question.fact == fact),
            Standing::Refused(_) | Standing::Complete(_) | Standing::Faulty(_) => false,
        }
    }

    /// Puts what is unclear back as a question.
    pub(in crate::conversation) fn put_back(&mut self, said: &Interpretation) {
        let unsure = said.unsure_facts();
        match (said.unclear(), unsure.is_empty()) {
            (Some(Sure::OneOf { why, options }), true) => match (options.as_slice(), self.current_plan()) {
                ([only], Some(_)) if self.waits_for_yes(&only.answers) => {
                    self.propose_of_this_roof(only.answers.clone());
                }
                _ => self.offer(why.clone(), options.clone()),
            },
            (Some(Sure::Unreadable(why)), true) => self.missed(why.clone()),
            _ => self.confirm(&unsure),
        }
    }

    /// Asks whether these facts were meant; with a plan in hand, whether to change it.
    pub(in crate::conversation) fn confirm(&mut self, given: &[Given]) {
        let answers: Vec<Answer> = given.iter().map(|given| (given.fact, given.value.clone())).collect();
        if self.waits_for_yes(&answers) {
            return self.propose_of_this_roof(answers);
        }
        let unit = match given {
            [only] => only.written,
            _ => None,
        };
        let draft = asking::confirm(self.guide, &self.session, &answers);
        self.happen(Event::Offered(vec![Offer { answers, unit }]));
        self.say(draft);
    }

    pub(in crate::conversation) fn take_offer(&mut self, offer: &Offer) {
        let heard: Vec<Given> = offer
            .answers
            .iter()
            .map(|(fact, value)| Given {
                fact: *fact,
                value: value.clone(),
                assumed: false,
                written: offer.unit,
                shows: offer.unit.and_then(|unit| picking::units_of(*fact, unit)),
            })
            .collect();
        self.take(&heard);
    }

    pub(in crate::conversation) fn offer(&mut self, why: Note, options: Vec<Offer>) {
        let draft = picking::offer(self.guide, why, &options);
        self.happen(Event::Offered(options));
        self.say(draft);
    }

    /// The plan as it stands before an answer changes it, where one has been given.
    pub(in crate::conversation) fn current_plan(&self) -> Option<Plan> {
        if !self.session.planned() {
            return None;
        }
        self.plan().ok()
    }

    /// What the person supposes, worked out and not stored; "keep it?" stores it.
    pub(in crate::conversation) fn work_out(&mut self, supposed: &[Given]) {
        let answers: Vec<Answer> = supposed.iter().map(|given| (given.fact, given.value.clone())).collect();
        match self.standing() {
            Standing::Complete(_) if self.waits_for_yes(&answers) => {
                self.suppose(Change { answers, ..Change::default() });
            }
            Standing::Complete(_)
            | Standing::Stopped(..)
            | Standing::Refused(_)
            | Standing::Ask(_)
            | Standing::Faulty(_) => {
                self.aside.push(Note::new("what-if-later"));
                self.carry_on();
            }
        }
    }

    /// Nothing of what was offered is meant.
    pub(in crate::conversation) fn drop_offer(&mut self) {
        self.aside.push(Note::new("not-that-then"));
        self.go_on();
    }

    pub(in crate::conversation) fn say_draft_and_go_on(&mut self, draft: Draft) {
        self.say(draft);
        self.carry_on();
    }
}
