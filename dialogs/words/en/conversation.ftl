# What is said around the questions: hello, help, reading back, changing, stopping.

## Hello

greeting =
    Hello, I'm lapwise. I help you put corrugated bitumen sheets on a small roof: I ask about your roof, then tell you what to buy, where everything goes and in which order to do it.

    It takes about ten minutes. You can stop at any point and carry on another day. Your answers are kept { $where }.
kept-on-this-computer = on this computer, and nowhere else
kept-by-the-adviser = by the adviser who runs this chat, and you can have them deleted
first-hint = Stuck? Say “why”, “how” or “not sure”. Say “help” to see what else I understand.
hello-again = Hello! Let's make a start.
welcome-back = Welcome back. I kept your answers, so we go on where you stopped.
help =
    You can always type an answer in your own words.

    • “why” – why I ask, or why a number is what it is
    • “how” – how to measure it
    • “not sure” – when you don't know
    • “back” – take back the last answer
    • “change the slope” – change any answer
    • “my answers” – everything so far
    • “units” – metres, millimetres or feet
    • “show the plan”
    • “start again” – forget it all
    • “person” – reach a human
    • “privacy” – what I keep, and how to delete it

## Reading back

echo = { $fact }: { $value }.
echo-assumed = { $fact }: I took that as { $value }. If that's wrong, say “back”.
echo-about = { $fact }: about { $value }.
so-far = { $fact } is { $value } so far.
reading-as = { $value }
reading-of = { $fact }: { $value }
plain-text = { $text }
which-did-you-mean = Which did you mean?
offer-which-way = I have the first. Which is the second one?
offer-which-choice = That could be more than one of these. Which did you mean?
confirm-change = Change { $facts }?
confirm-fact-change = { $fact } from { $old } to { $value }
confirm-one = { $facts }. Is that right?
confirm-fact = { $fact }: { $value }
change-swap = Which way round is it?
not-that-then = All right, not that.
as-you-have-it = That is what I have already.
no-such-part = Your roof as I have it has no { $fact }, so I changed nothing. If I have the roof wrong, say “my answers” and tell me which line to change.
what-if-later = I have changed nothing. Once the plan is made, I can work that out for you. First this:
button-yes = Yes
button-no = No
reading-count-band = I need a whole number from { $low } to { $high }.
reading-too-many = That's more than two measurements. Please send this one by itself.

## When somebody may be in danger

danger-none = Good, nobody is in danger.
danger-all-right = Good to hear. Before you go on, find out why it happened and put that right. Go on only rested, and not alone.
stop-until-all-right = I go on only when everybody is all right. Whoever hit their head, feels sick, dizzy or numb, or got a shock must be seen by a doctor first. Is everybody all right?
danger-button-all-right = Yes, everybody is all right

## When something isn't understood

not-understood = Sorry, I didn't get that.
settle-this-first = I'll gladly answer that, but somebody could get hurt here, so this comes first.
stop-recalled = The plan still waits for this, because somebody could get hurt.
detail-tells-nothing = I can't write that down: it has to be done already, and somebody has to know of it. If nobody knows, say “not sure”.
detail-too-long = That is more than I can write down. Please say it in a few words, { $most } letters at most.
detail-lacks-a-day = I need the day, with a figure in it. “A while ago” is no day that anybody can look up.
detail-lacks-a-distance = I need the distance, with a figure in it. “Far enough” is no distance.
promised = Good.
sizes-later = Thanks for the sizes. I will ask for each in its turn, so that none gets mixed up.
more-of-what = For more on an answer, press its “More”, or name what you mean: “more about the laps”.
measure-not-yet = That looks like a measurement. Keep it at hand: I'll ask for it in a moment, or say what it measures, such as “8ft 6 long”. First this:
measure-of-what = That looks like a measurement, but I can't tell of what. Say it with a word, such as “2.6 m up the slope” or “the deck is 18 mm”.
empty-message = That came through empty.
other-kind = Thanks, but I can only read words and numbers.
stale-button = That button belonged to an earlier question. Here is where we are.
a-question-of-theirs = Good question. Let's get your roof's facts first, then I can answer it for your own roof.
say-yes-or-no = Please say yes or no.
how-of-what = Which one? Ask “how” when I ask for a measurement, and I'll explain it.
not-sure-of-what = That's fine. Here is where we are.
person-offer = If we're stuck, say “person” and I'll tell you how to reach a human.
person = A person can help with this. Ask the roofing counter where you buy your sheets, and show them your answers: say “my answers” to see them all in one list. If anything looks unsafe, ask a qualified roofer or builder to come and look.
chat-full = This chat is full, and I can't keep more of it. What you have told me is safe. For a copy of it say “/export”. To begin afresh say “/delete”.
store-full = I have no room left to keep what you say. What you have told me before is safe. Please try again later.
our-fault = Sorry, something went wrong on my side. Your answers are safe. Please try again, or say “person”.

## Changing

undone = Taken back: { $fact }.
undone-plain = Taken back.
nothing-to-undo = There is nothing to take back.
nothing-to-change = You haven't told me anything yet, so there is nothing to change.
what-to-change = Which line shall we change? Say its number or its name.
which-line = I didn't find that one.
review = Here is your roof as I have it. Please check every line.
review-line = { $fact }: { $value }
review-ask = Is that all right? Say “yes” and I'll make the plan, or say which line to change.
answers-so-far = This is what I have so far.
really-restart = Start again? That forgets { $answers ->
        [one] the one answer
       *[other] all { $answers } answers
    } you gave me and the plan made from them.
restarted = All forgotten. Let's start fresh.
restarted-suspected =
    All forgotten but one thing: there may be asbestos, and you have not told me that a test found none.
kept-going = Good, nothing is lost.

## What is kept

privacy =
    What I keep: your answers about the roof, and what we wrote while you chat. Your name, your number and your address are not asked for.

    Why: so that you can stop and come back, and so that I can plan your roof. It is kept { $where }.

    How long: { $long }

    Who sees it: nobody but you, unless you ask to send the shopping list to a supplier. Say “export” to get everything as a file, or “delete” to have everything deleted.
kept-until-deleted = until you delete it.
kept-for-days = until you delete it, or until { $days } days have passed without a word from you. I tell you { $notice } days before, where I can write to you first: not in a group.
going-quiet = You have not written for a long time. I keep your answers about your roof until { $day }. Then I delete all of it, for good. To keep it, write anything to me before that day. Say “export” to have it as a file.
exported = Here is everything I keep of you, in one file.
really-delete = Delete everything I keep of you, for good: your answers, this chat's plan, and any link you shared? It cannot be undone.
deleted = Everything is deleted: { $events } answers and steps, { $inbox } messages from you, { $outbox } messages to you, and { $other } other things. If you write again, we start fresh.

## Units

which-language = Which language shall we speak?
language-only-one = I speak English only so far.
which-units = How do you measure? I'll say everything back that way.
units-now-mm = I'll use millimetres.
units-now-m = I'll use metres.
units-now-ft = I'll use feet and inches.

## No plan

no-plan-yet = I can't make the plan just yet: I still need this.
refusal-ways-on = Change an answer if it was wrong, or say “person” to talk it over with somebody.

## Buttons

button-how = How do I measure it?
button-not-sure = Not sure
button-person = Talk to a person
button-more = More
button-plan = Yes, make the plan
button-change = Change a line
button-change-fact = Change: { $fact }
button-nothing = Change nothing
button-restart = Yes, forget it all
button-keep = No, keep it
button-delete = Yes, delete everything
button-review = My answers
button-metres = Metres
button-millimetres = Millimetres
button-feet = Feet and inches

## In a messenger

too-fast = That's a lot at once. I read the first ones; please send the rest one at a time.
not-your-button = That button belongs to somebody else's question. Write to me yourself and I'll ask you.
menu-start = Start, or carry on
menu-help = What you can say
menu-review = Your answers so far
menu-plan = Your plan
menu-cancel = Leave the question
menu-settings = Metres, millimetres or feet
menu-privacy = What I keep of you
menu-export = Get everything I keep
menu-delete = Delete everything I keep

## Files

file-plan = The whole plan as plain text.
file-roof-pack = The roof pack: the whole plan on paper, with drawings.
file-supplier = One page for the supplier: what to pick.

## The plan's parts

what-next = Your plan is ready. What would you like to see? Say “why” for the reasons behind it.
show-headline = In short
show-materials = What to buy
show-setting-out = Setting out
show-fixings = Nailing
show-cut-list = Cut list
show-work = Order of work
show-cautions = Safety
show-papers = Papers to print
button-why = Why these numbers?
plan-changed = I've made the plan again with that change.
plan-same = That changes nothing in the plan.
