# A verdict on a figure that was put to the bot: yes or no first, then what it is measured by, then how far it is off.
# $rule and $compare are sentences of this file, $given is the figure as it was written.

verdict-yes = Yes: { $rule } { $compare }
verdict-yes-plain = Yes: { $rule }
verdict-no = No: { $rule } { $compare }
verdict-no-plain = No: { $rule }
verdict-stop = Stop: { $rule } { $compare }
verdict-stop-plain = Stop: { $rule }
verdict-go = That is within it: { $rule }
verdict-go-plain = That is within it: { $rule }
verdict-this-one = { $given }: { $rule }
verdict-neither = Neither: { $rule }
verdict-by-the-slope = That goes by the slope:

verdict-short = { $given } is { $by } short.
verdict-more = { $given } is { $by } more than it takes.
verdict-over = { $given } is { $by } too much.
verdict-within = { $given } is within that.
verdict-less = { $given } is { $by } less.
verdict-greater = { $given } is { $by } more.

verdict-waves = { $count ->
        [one] { $count } corrugation
       *[other] { $count } corrugations
    }
verdict-celsius = { $count }°C
verdict-mph = { $count } mph
verdict-hours = { $count ->
        [one] { $count } hour
       *[other] { $count } hours
    }

verdict-rule-end-lap = your end laps are { $value }.
verdict-rule-end-lap-one-course = one sheet reaches from eaves to top, so there is no end lap. If you ever lap two, lap them { $value }.
verdict-rule-end-lap-at = at { $pitch } end laps are { $value }.
verdict-rule-end-lap-any = no slope takes an end lap shorter than { $value }.
verdict-rule-side-lap = your sheets share { $value } at the sides.
verdict-rule-side-lap-at = at { $pitch } sheets share { $value } at the sides.
verdict-rule-side-lap-any = sheets share at least { $value } at the sides.
verdict-rule-spacing = your purlins stand no more than { $value } apart, middle to middle.
verdict-rule-spacing-deck = your lines of nails stand no more than { $value } apart.
verdict-rule-spacing-at = at { $pitch } purlins stand no more than { $value } apart, middle to middle.
verdict-rule-spacing-any = on no slope may purlins stand more than { $value } apart, middle to middle.
verdict-rule-nail-every = between eaves and end laps, nail { $value ->
        [1] every corrugation
        [2] every other corrugation
       *[other] every { $value } corrugations
    }.
verdict-rule-nail-every-edge = at the eaves and at end laps, nail { $value ->
        [1] every corrugation
        [2] every other corrugation
       *[other] every { $value } corrugations
    }.
verdict-rule-spare = get { $value ->
        [one] { $value } spare sheet
       *[other] { $value } spare sheets
    }.
verdict-rule-eaves = the sheets pass the eaves by { $value }.
verdict-rule-verge = the sheets pass the barge board by { $value }.
verdict-rule-deck = a deck must be { $value } thick or more to hold the nails.
verdict-rule-nail-bite = a nail bites { $least } to { $most } into the timber.
verdict-rule-nail-length = your plan takes nails { $value } long.
verdict-rule-screw = your plan takes screws { $value } long.
verdict-rule-purlins = your plan has { $value ->
        [one] { $value } purlin
       *[other] { $value } purlins
    } on a slope.
verdict-rule-purlins-deck = your sheets lie on a deck. It takes { $value ->
        [one] { $value } line
       *[other] { $value } lines
    } of nails on a slope, and no purlins.
verdict-rule-pitch = these sheets are laid at { $value } or steeper.
verdict-rule-courses = your plan has { $value ->
        [one] { $value } course
       *[other] { $value } courses
    } on a slope.
verdict-rule-sheet-mass = one of your sheets weighs { $value }.
verdict-rule-mass = all that stays on your roof weighs { $value }.
verdict-rule-carried = the sheets with all that goes on them, spare ones too, weigh { $value } to carry.
verdict-rule-sheet-price = the list asks { $value } for one sheet.
verdict-rule-price = the whole list comes to { $value }.
verdict-rule-hours = I reckon with { $value } of work.
verdict-rule-nails = your sheets take { $value } nails.
verdict-rule-nails-and-edges = your sheets take { $value } nails, and the edge pieces { $edges } more.
verdict-rule-sheets = your roof takes { $value ->
        [one] { $value } sheet
       *[other] { $value } sheets
    }, and { $spare } to spare is wise.
verdict-rule-ridge-pieces = your ridge takes { $value ->
        [one] { $value } piece
       *[other] { $value } pieces
    }.
verdict-rule-verge-pieces = your verges take { $value ->
        [one] { $value } piece
       *[other] { $value } pieces
    }.
verdict-rule-fillers = your eaves take { $value ->
        [one] { $value } filler
       *[other] { $value } fillers
    }.
verdict-rule-wind = nobody goes up in more wind than { $value }.
verdict-rule-temperature = sheets are laid between { $coldest }°C and { $hottest }°C.

verdict-beside-longer-lap = A longer lap does no harm, it only takes more sheets.
verdict-beside-thin-deck = On a thinner deck put purlins over it, and nail into those.
verdict-beside-cold = In the cold sheets crack when you cut or nail them, and ladders and timber are slippery.
verdict-beside-frost = Wait all the same while there is frost or wet about.
verdict-ladder-reaches = A ladder of { $given } reaches an edge { $reach } high, no higher: one out for every { $one_in } up, its top { $over } above the edge. Measure the edge before you trust it.
verdict-ladder-too-short = That ladder is too short for any roof: its top must stand { $over } above the edge.
verdict-ladder-needed = For an edge { $height } high the ladder must be { $needed } long: one out for every { $one_in } up, its top { $over } above the edge.
