# The plan, told in parts.

## In short

headline = Your roof is { $area }. You need { $sheets ->
        [one] one sheet
       *[other] { $sheets } sheets
    } ({ $sheet }).
slope-only = The slope
slope-front = Front slope
slope-back = Back slope
slopes-both = Both slopes, each
headline-laps = { $courses ->
        [one] One course of sheets, so no end laps
       *[other] { $courses } courses of sheets, end laps { $end_lap }
    }, side laps { $side_lap ->
        [one] one corrugation
       *[other] { $side_lap } corrugations
    }
headline-nails = { $nails } nails, { $nail } long
headline-nails-two = { $nails } nails, { $short } of them { $nail } long and { $long } of them { $longer }
headline-edge = { $piece }: { $pieces }
headline-weight = The covering weighs { $mass }, that is { $per_m2 } on each square metre
demo-range = The sheets and pieces here are an invented demo range. Check every size against the label of what you buy.
headline-on-purlins = { $lines } purlins, no more than { $gap } apart, middle to middle
headline-purlins-over-deck = { $lines } purlins laid over your { $deck } deck, no more than { $gap } apart, middle to middle. Hold them with { $screw } screws from inside
headline-on-deck = Your { $deck } deck takes the nails: { $lines } nail lines, no more than { $gap } apart
headline-new-deck = A new full deck, { $deck } thick, with { $lines } nail lines no more than { $gap } apart

## What to buy

materials = What to buy:
material-singly = { $buy } × { $name } – { $purpose }{ $spare ->
        [0] { "" }
       *[other] {" "}({ $needed } and { $spare } spare)
    }
material-packs = { $packs ->
        [one] 1 pack
       *[other] { $packs } packs
    } of { $pack } × { $name } – { $purpose } ({ $needed } needed{ $spare ->
        [0] { "" }
       *[other] , { $spare } spare
    })
material-lengths = { $buy } × { $name }, { $length } long – { $purpose }
material-priced = { $line }: { $price }
materials-price = { $without ->
        [0] In all { $price }, with prices from { $date }.
        [one] In all { $price }, with prices from { $date }, without the one line that has no price.
       *[other] In all { $price }, with prices from { $date }, without the { $without } lines that have no price.
    }
materials-no-price = Ask your supplier for the price: show them this list.
tools = To have at hand:

## Setting out

setting-out-purlins = Purlins, measured up the slope from the eaves edge to the middle of each:
setting-out-lines = Nail lines, measured up the slope from the eaves edge:
setting-out-first = { $number }: { $at } – { $kind }
setting-out-line = { $number }: { $at } (up { $gap }) – { $kind }
line-eaves = at the eaves
line-end-lap = under an end lap
line-intermediate = between
line-top = at the top
setting-out-sheets = Lay { $columns ->
        [one] one column of sheets
       *[other] { $columns } columns of sheets
    }, starting at the { $start } end. { $at_wall ->
        [0] The first sheet passes the barge board by { $verge } and the eaves by { $eaves }.
       *[other] The first sheet lies close against the wall there, and passes the eaves by { $eaves }.
    }{ $columns ->
        [one] {""}
       *[other] {" "}Each next one moves on by { $cover }.
    }
setting-out-far-wall = At the far end the sheets stop at the wall.
setting-out-far-verge = At the far end the last corrugation passes the barge board by { $far }. Bend it down over the board, or trim it to match the first end.

## Nailing

fixings = { $nails } nails, { $nail } long, so that each bites { $bite } or more into the wood, through all that laps there.
fixings-two = { $nails } nails. On plain lines { $short } of { $nail }, at end laps and under pieces { $long } of { $longer }, so that each bites { $bite } or more into the wood.
fixings-eaves = Eaves: every corrugation ({ $nails } nails)
fixings-end-lap = { $lines ->
        [one] End lap
       *[other] End laps
    }: every corrugation ({ $nails } nails)
fixings-intermediate = { $lines ->
        [one] Line
       *[other] { $lines } lines
    } between: every other corrugation, and both sides of each side lap ({ $nails } nails)
fixings-top = Top: every other corrugation, and both sides of each side lap ({ $nails } nails)
fixings-how = Always through the top of a corrugation, never the bottom. Drive each nail snug; don't crush the sheet.

## Cut list

cut-list-proven = { $sheets ->
        [one] One sheet
       *[other] { $sheets } sheets
    }, { $cuts ->
        [0] no cuts
        [one] one cut
       *[other] { $cuts } cuts
    }. No way to lay this slope needs fewer sheets.
cut-list-bound = { $sheets ->
        [one] One sheet
       *[other] { $sheets } sheets
    }, { $cuts } cuts. That's the best I found; fewer than { $bound } is impossible.
cut-list-shared-front = { $sheets ->
        [one] One sheet
       *[other] { $sheets } sheets
    }, { $cuts ->
        [one] one cut
       *[other] { $cuts } cuts
    }. Some of what they leave over goes on the back slope. Mark those pieces, and keep them flat and dry.
cut-list-shared-back = { $sheets ->
        [0] No more sheets
        [one] One more sheet
       *[other] { $sheets } more sheets
    }, { $cuts ->
        [0] no more cuts
        [one] one cut
       *[other] { $cuts } cuts
    }, and the pieces you kept from the front slope.
cut-offcuts = From the front slope's { $count ->
        [one] sheet
       *[other] sheets
    } { $sheets }: { $pieces }{ $count ->
        [one] { "" }
       *[other] {" "}from each
    }
cut-none = { $count ->
        [one] Sheet
       *[other] Sheets
    } { $sheets }: leave whole
cut-sheets = { $count ->
        [one] Sheet
       *[other] Sheets
    } { $sheets }: { $pieces }{ $kept ->
        [0] { "" }
       *[other] , and { $for_back } for the back slope
    }{ $count ->
        [one] { "" }
       *[other] {" "}from each
    }
cut-piece-full = { $length } full width
cut-piece-narrow = { $length }, { $corrugations ->
        [one] one corrugation wide
       *[other] { $corrugations } corrugations wide
    }
cut-list-where = Sheets are numbered as they are laid, course by course from the eaves up. Mark each piece as you cut it.

## Work and safety

work = The order of work:
cautions = Before anything else, please mind this:

## Papers

papers = Here is your plan on paper: the roof pack for you, an order for the supplier, and everything as plain text.

## Why

why-none = I have no reason for that one. Ask me “why” with a figure of the plan, or about laps, nails, purlins or sheets.
why-nails = { $sheets } nails go through the sheets: every corrugation at the eaves and end laps, fewer between.
why-nails-and-edges = { $sheets } nails go through the sheets. The edge pieces take { $edges } more, so { $all } are needed in all.
why-sheets =
    { $sheets ->
        [one] { $sheets } sheet
       *[other] { $sheets } sheets
    }, because the roof is { $columns } wide and { $courses ->
        [one] { $courses } course
       *[other] { $courses } courses
    } high. Each covers { $cover } across, and end laps take { $lap }. What is cut off one is used where it fits.
why-purlins = { $lines } purlins, because they may stand no more than { $gap } apart, and each end lap needs one under it.
why-nail-lines = { $lines } lines of nails, because they may stand no more than { $gap } apart, and each end lap needs one.
why-list = { $settled }.
why-settled = { $requirement }: { $value }
reason = { $rule } Yours: { $facts }. Source: { $source }, { $since }.
reason-always = { $rule } Source: { $source }, { $since }.
reason-allows = Another rule would have allowed { $value }: { $rule } Source: { $source }, { $since }.
reason-fact = { $fact } { $value }
source-of = Where this is from: { $source }.

## The terminal

terminal-how-to-leave = Type your answers, or the number before a choice. Type “quit” to leave; your answers are kept.
terminal-goodbye = Your answers are kept. See you soon.
