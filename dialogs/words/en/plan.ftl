# What the plan says. Every message and its figures are listed in src/roofing/messages.rs.

# Measurements that disagree. $slip names the likeliest slip, $fact what it happened to, $corrected what that would be.

contradiction-slip =
    { $slip ->
        [plan-for-slope] Perhaps the { $fact } was measured level, not up the slope. Then it would be { $corrected }.
        [half-for-whole] Perhaps the { $fact } is only half of it. Then the whole would be { $corrected }.
        [whole-for-half] Perhaps the { $fact } is twice too much. Then it would be { $corrected }.
        [feet-as-metres] Perhaps the { $fact } was in feet and I took it for metres. Then it would be { $corrected }.
        [metres-as-feet] Perhaps the { $fact } was in metres and I took it for feet. Then it would be { $corrected }.
        [ten-times-too-small] Perhaps the { $fact } is ten times too small, as when cm are taken for mm. Then it would be { $corrected }.
        [ten-times-too-big] Perhaps the { $fact } is ten times too big, as when mm are taken for cm. Then it would be { $corrected }.
        [percent-as-degrees] Perhaps the { $fact } was in per cent, not degrees. Then it would be { $corrected }.
        [rise-run-swapped] Perhaps rise and run changed places in the { $fact }. Then it would be { $corrected }.
       *[none] Please measure them again.
    }
contradiction-pitch-rise-slope =
    Your slope is { $given }, but your rise and slope length make it { $worked_out }. Both cannot be right.
    { contradiction-slip }
contradiction-pitch-rise-span =
    Your slope is { $given }, but your rise and the width across make it { $worked_out }. Both cannot be right.
    { contradiction-slip }
contradiction-slope-span-pitch =
    You gave { $given } up the slope, but the width across and the slope make it { $worked_out }. Both cannot be right.
    { contradiction-slip }
contradiction-slope-span-rise =
    You gave { $given } up the slope, but the width across and the rise make it { $worked_out }. Both cannot be right.
    { contradiction-slip }
contradiction-span-two-slopes =
    You gave { $given } across the building, but your two slopes reach { $worked_out }. Both cannot be right.
    { contradiction-slip }
contradiction-diagonals =
    One diagonal is { $given } and the other { $worked_out }. On a square roof they are the same.
    { contradiction-slip }
contradiction-diagonal-sides =
    Your diagonal is { $given }, but the two sides make it { $worked_out }. Both cannot be right.
    { contradiction-slip }
contradiction-diagonals-and-sides =
    One diagonal is { $given }, but the other one and the two sides make it { $worked_out }. Both cannot be right.
    { contradiction-slip }

# Refusals.

refused-in-doubt =
    You were not quite sure of the { $fact }, and on the bad side of your figure I must say no.
    Please measure it again. A surer figure may be all it takes.
refused-deck-too-thin =
    Your deck is { $deck } thick. On a slope this flat it must be { $least } at least, to hold the nails.
    Make it up by { $make_up } with boards or plywood over it, and I can plan it.
refused-deck-too-thin-in-doubt =
    You gave { $deck } for the deck, but were not sure. On a slope this flat it must be { $least } at least.
    Please measure it again. If you cannot, make it up by { $make_up }, and I can plan it.
refused-no-deck-screw =
    For a deck of { $deck } I need a screw between { $shortest } and { $longest }, and the list has none.
    Ask the supplier for one, or for thicker purlins.
refused-no-deck-board = I need a deck board { $least } thick or more, and the list has none. Ask the supplier.
refused-no-purlin-timber = The list has no timber for purlins. Ask the supplier.
refused-no-purlin-screw =
    To hold { $timber } I need a screw of { $shortest } or more, and the list has none. Ask the supplier.
refused-no-sheet-screw =
    The sheets need screws of { $shortest } or longer, and the list has none.
    Choose another sheet, or ask the adviser to list one.
refused-no-nail =
    Corrugations of { $height } need a nail between { $shortest } and { $longest }, and the list has none.
    Check the height of the corrugation, or ask the supplier.
refused-purlins-carry =
    Your rafters stand { $spacing } apart. That is too far for any purlin I know of: the strongest would be loaded to
    { $used } % of what it may carry, under snow and a person. Ask a structural engineer what purlins it wants. Or put
    more rafters in between, and tell me how far apart they stand then.
refused-deck-carries =
    Your timbers stand { $spacing } apart. That is too far for any deck board I know of: the thickest would be loaded to
    { $used } % of what it may carry, under snow and a person. Put more timbers in between, and tell me how far apart
    they stand then. Or ask a structural engineer.
refused-no-nail-for-timber =
    Through sheets and pieces that lap, corrugations of { $height } need a nail of { $shortest } or more, and in timber
    { $depth } deep one over { $longest } would come through. Ask the supplier for thicker timber, or the adviser.
refused-no-piece-reaches =
    Timber and sheets lift the piece for the { $edge }, and on a slope so steep none on the list reaches the top line.
    It needs wings of { $wing } or more. Ask the supplier for one, or the adviser.
refused-timber-too-short =
    Purlins can only be joined over a timber, and yours are { $spacing } apart. No purlin on the list reaches so far.
    Ask the supplier for longer ones.
refused-sheet-does-not-fit =
    A sheet of { $sheet } cannot be laid on this roof with the laps it needs. Check its label, or take a longer one.

# Doubts and advice.

doubt-takes-the-strict-side =
    You were not quite sure of the { $fact }, so I took the safe side. The { $requirement } is { $limit }.
    Measure it again: a surer figure might allow { $easier }.
doubt-deck-thickness =
    You were not quite sure of the deck's { $deck }, so I took the safe side and put purlins over it.
    Measure it again: at { $least } or more it takes the nails by itself.
advice-existing-purlins =
    Your own purlins are { $spacing } apart. One of them may stay in use where it stands on a line of the plan. Fit new ones at the other lines.
advice-existing-purlins-too-far-apart =
    Your own purlins are { $spacing } apart, and { $limit } is the most. Fit new ones at the lines of the plan.
    An old one may stay in use where it stands on such a line.
advice-timbers-below-not-known =
    I do not know where the rafters are under your purlins. Move each joint to the nearest rafter,
    and screw the purlins to every rafter they cross.
advice-deck-edges-on-timber =
    The ends of the deck boards must land on a timber. Yours are { $spacing } apart. Put blocks under long edges that land on none.
advice-own-sheet-like =
    Your label doesn't say what a sheet weighs or how it may be cut. I've taken that from { $sheet }.
    Follow the leaflet of the sheet you buy, where it asks for more.
advice-nail-point-may-show =
    The nail goes { $bite } into { $depth } of timber, so a point may show inside. Mind heads, hands and cables below.
advice-start-at-the-wall = Start laying at the wall: it shelters that end, and the free end takes what is over.
advice-wind-not-from-a-side =
    The wind comes from neither end that I know of, so laying starts at the left. If one end is windier, start at the other.
advice-trim-at-the-wall = At the wall the last sheet is { $trim } too wide. Trim it along the wall, under the flashing.
advice-few-millimetres =
    One column of sheets is there for { $over } only. Trim the barge boards, so that the roof is { $length } from outside to
    outside, and tell me that: then { $columns ->
        [one] one column does
       *[other] { $columns } columns do
    }.
advice-few-millimetres-at-a-wall =
    One column of sheets is there for { $over } only. Let the sheets stand off the wall by that much, under its flashing, and
    tell me that the roof is { $length } long: then { $columns ->
        [one] one column does
       *[other] { $columns } columns do
    }.
advice-far-verge =
    At the far end the last corrugation passes the barge board by { $overhang }. Let it hang over as a drip edge, or trim it.
advice-purlins-side-by-side =
    Purlins { $lower } and { $upper } stand side by side, { $gap } from middle to middle. That is meant so: the lower one
    carries the lap of the sheets, the upper one the nails of the pieces along the top. Fit both.
advice-no-edge-piece = The list has no piece for the { $edge } at this slope. Ask the supplier for one.
advice-offcuts-shared =
    Both slopes together take { $sheets } sheets, { $saved ->
        [one] one fewer
       *[other] { $saved } fewer
    } than if you cut each by itself. What the front slope's sheets leave over goes on the back slope. { $spared ->
        [0] No way to lay this roof needs fewer.
       *[other] It is the best I found; fewer than { $at_least } is impossible.
    }
advice-sheets-best-found =
    { $sheets } sheets is the best I found. I can prove that no way needs fewer than { $at_least }, so one may be saved yet.
advice-ridge-heights-differ =
    The front slope climbs { $front } and the back one { $back }. That is right only if one eaves is lower than the other.
    If they are level, please measure again.
advice-insulation-not-on-a-deck =
    You wanted insulation. This plan has none: your sheets lie straight on the deck, and I plan boards only between purlins over a deck.
    From inside it goes between the rafters. It needs a vapour control layer on the warm side and a gap for air under the deck. Ask a person before you close a roof from inside.
advice-insulation-not-over-rafters =
    You wanted insulation. This plan has none: without a deck under the purlins there is nothing for the boards to lie on.
    From inside it goes between the rafters. It needs a vapour control layer on the warm side and a gap for air under the sheets. Ask a person before you close a roof from inside.

# The order of work.

# A step, and what to mind at it.
step-minding = { $step } { $mind }

step-get-ready = Get tools, sheets and a helper ready. Set up a secure platform or ladder. Wear gloves, goggles and a hard hat.
step-inspect = Look over the whole building, the roof timbers most of all. Mend what is loose or rotten first.
step-keep-or-strip-felt = Flat, dry felt may stay under the sheets. Take off what is torn, loose or wet, and pull the nails.
step-strip = Take off the old covering, pull the nails and sweep the roof clean.
step-front-slope = Now the front slope.
step-back-slope = Now the back slope.
step-fit-deck =
    Fit the full deck: { $boards ->
        [one] one board
       *[other] { $boards } boards
    }. Every end lands on a timber.
step-mark-lines = Snap a line across the deck for each row of nails. Measured up from the eaves edge, they are at { $lines }.
step-underlay = Lay the vapour control layer on the deck, from the eaves up, each strip lapping the one below. Tape every lap and edge, so that no damp air gets past it.
step-purlins = Fit the purlins. Measured up from the eaves edge, their middles are at { $lines }. Screw them to every timber: { $screws } screws.
step-purlins-over-deck =
    Lay the purlins on the deck. Measured up from the eaves edge, their middles are at { $lines }.
    First screw both ends down at the verges, from outside. Then put { $screw } screws through the deck into the purlins from inside: { $screws } screws in all.
step-insulation = Lay the insulation boards between the purlins.
step-eaves-filler = Lay the eaves filler along the first line. It keeps birds and driven rain out of the corrugations, and its slots let air through.
step-square =
    Check the corner before the first nail. Mark { $along } along the eaves and { $up } up the verge.
    From mark to mark it must be { $diagonal }. Then the corner is square.
step-first-sheet =
    Lay the first sheet, piece { $mark }, at the { $start } end. It passes the eaves by { $eaves_overhang } and the barge board by { $verge_overhang }.
    Set it square to eaves and verge before you nail.
step-first-sheet-at-a-wall =
    Lay the first sheet, piece { $mark }, at the { $start } end, close against the wall. It passes the eaves by { $eaves_overhang }.
    Set it square to the eaves before you nail.
step-keep-offcuts =
    { $pieces ->
        [one] One piece for the back slope comes
       *[other] { $pieces } pieces for the back slope come
    } out of { $from ->
        [one] sheet
       *[other] sheets
    } { $sheets }: drawing 5 shows how. Cut that piece when you cut the sheet, write its number and letter on it, and keep it flat and dry.
step-use-offcuts =
    { $pieces ->
        [one] One piece of this slope is kept from the front slope, out of
       *[other] { $pieces } pieces of this slope are kept from the front slope, out of
    } { $from ->
        [one] sheet
       *[other] sheets
    } { $sheets }. Drawing 2 shows by number and letter where each goes.
step-and-offer-up =
    { $step } Fix the top one last. Lay a scrap of sheet on the timbers there and offer the piece for the { $edge } up
    first: its lower edge must come { $least } or more below the middle of the top one. If it does not, move that up.
step-and-offer-up-to-a-deck =
    { $step } Snap the top line last. Lay a scrap of sheet on the deck there and offer the piece for the { $edge } up
    first: its lower edge must come { $least } or more below the top line. If it does not, snap that line higher.
step-nail =
    Nail { $count ->
        [one] the line
       *[other] the lines
    } at { $lines } up: { $nails } nails of { $nail }, in the tops of the corrugations, as drawing 3 shows.
step-wall-side = Fit the flashing at the side wall, from the eaves up. Nail it at every line.
step-wall-top = Fit the flashing at the top wall. Its nails go through the sheets into the top line.
step-verge = Fit the verge pieces from the eaves up, each lapping the one below. Nail them at every line.
step-top-edge = Fit the pieces along the top edge. Their nails go through the sheets into the top line.
step-finials =
    Close the { $finials ->
        [one] free end of the ridge with a finial
       *[other] ends of the ridge with a finial each
    }, cut and fixed.
step-last-look = Look over every nail and lap, sweep off swarf and dropped nails, and look again after the first rain.

# What a change changes.

difference-support =
    { $slope ->
        [0] The roof
        [one] The front slope
       *[other] The back slope
    } now has { $support }.
difference-requirement =
    { $slope ->
        [0] The
        [one] Front slope: the
       *[other] Back slope: the
    } { $requirement } was { $before } and is now { $after }.
difference-lines =
    { $slope ->
        [0] The
        [one] Front slope: the
       *[other] Back slope: the
    } lines are now at { $lines }.
difference-buy-more = Buy { $count } more: { $name }.
difference-buy-less = Buy { $count } fewer: { $name }.
difference-buy-more-lengths = Buy { $count } more: { $name }, { $length } long.
difference-buy-less-lengths = Buy { $count } fewer: { $name }, { $length } long.

# Words inside the messages above.

support-purlins = purlins
support-full-deck = a full deck
support-purlins-over-deck = purlins over the deck
support-existing-deck = the deck that is there
support-new-full-deck = a new full deck

edge-ridge = ridge
edge-top-edge = top edge
edge-verge = verge
edge-wall-top = wall at the top
edge-wall-side = wall at the side
edge-eaves-filler = eaves

hand-left = left
hand-right = right

material-sheets = Sheets
material-edge-pieces = Along the edges
material-finial = To close the ridge ends
material-nails = To nail the sheets
material-long-nails = To nail end laps, and pieces along the edges
material-sheet-screws = To screw the sheets
material-deck-screws = Through the deck into the purlins, from inside
material-purlin-screws = To hold the purlins
material-purlins = Purlins
material-deck = Full deck
material-underlay = On the deck
material-insulation = Between the purlins
material-underlay-staples = To hold the underlay
material-underlay-tape = To close the laps of the underlay
material-deck-board-screws = To hold the deck boards
material-barge-boards = At the verges, which the purlins raise
material-fascia = At the eaves, which the purlins raise
material-edge-board-screws = To hold barge boards and fascia
material-flashing-fixings = To hold the flashing to the wall
material-flashing-sealant = To close the flashing at the wall
material-finial-nails = To hold the finials

# What a counter must know of a line beside its name.

own-sheet = your own sheet
own-sheet-of-size = your own sheet, { $length } × { $width }, { $corrugations } corrugations, wave { $pitch } × { $height }, as your label says
own-sheet-to-order = Sheet of { $covering }, { $length } × { $width }, { $corrugations } corrugations, wave { $pitch } × { $height }, as the label says
detail-sheet = { $length } × { $width }, { $corrugations } corrugations, wave { $pitch } × { $height }
detail-piece = { $length }{ $laps ->
        [0] { "" }
       *[other] , to lap { $lap }
    }
detail-fits-wave = to fit a wave of { $pitch } × { $height }
detail-fastener = { $length } long, shank { $shank }
detail-timber = section { $width } × { $depth }
detail-area = { $length } × { $width } × { $thickness }
detail-fastener-kind = { $shank }, head or cap { $head }, { $coating }
shank-smooth = smooth shank
shank-ringed = ringed shank
shank-twisted = twisted shank
shank-threaded = wood screw thread
coating-bare = bare
coating-zinc-plated = zinc plated
coating-hot-dip-galvanised = hot-dip galvanised
coating-stainless = stainless
detail-timber-class = strength class { $class } (EN 338)
detail-spec = { $spec }
detail-cuts = cut to { $cuts }
detail-cut = { $count } × { $length }
detail-mass-by-size = weight by size, not weighed
detail-or-equal = or equal
detail-or-equal-wave = or equal with the same wave

requirement-support = support
requirement-max-purlin-spacing = widest gap from purlin to purlin
requirement-max-nail-line-spacing = widest gap from nail line to nail line
requirement-end-lap = end lap
requirement-side-lap-corrugations = side lap in corrugations
requirement-nail-bite-min = least bite of a nail in a deck
requirement-sheet-screw-bite = least bite of a screw through the sheet
requirement-nail-bite-max = deepest bite of a nail in a deck
requirement-purlin-nail-bite = least bite of a nail in a purlin
requirement-nail-point-cover = wood left under a nail's point
requirement-smooth-nail-bite-diameters = least bite of a smooth nail, in its thicknesses
requirement-ringed-nail-bite-diameters = least bite of a ringed nail, in its thicknesses
requirement-nail-end-distance-diameters = distance of a nail from the end of a timber, in its thicknesses
requirement-nail-edge-distance = distance of a nail from the edge of a sheet
requirement-top-lap = lap of the piece along the top over the sheets
requirement-end-play = width that is worth no column of its own
requirement-saw-cut = width of a saw cut
requirement-squared-end = end cut off to square a timber
requirement-spare-timber = number of spare timbers
requirement-min-deck-thickness = thinnest deck that takes nails
requirement-min-purlin-depth = least depth of the purlins
requirement-min-deck-for-span = least thickness of a new deck over its timbers
requirement-screw-point-cover = cover over a screw's point
requirement-insulation-joint = joint beside the insulation
requirement-screw-bite = bite of a screw
requirement-deck-screw-spacing = gap from screw to screw
requirement-nail-line-setback = distance of a nail line from the edge
requirement-eaves-overhang = overhang at the eaves
requirement-verge-overhang = overhang at the verge
requirement-fix-eaves-every = nail spacing at the eaves, in corrugations
requirement-fix-end-lap-every = nail spacing at end laps, in corrugations
requirement-fix-intermediate-every = nail spacing between, in corrugations
requirement-fix-ridge-every = nail spacing along the ridge, in corrugations
requirement-underlay-staple-spacing = gap from staple to staple along the underlay
requirement-deck-board-screw-spacing = gap from screw to screw in a deck board
requirement-edge-board-screw-spacing = gap from screw to screw along barge boards and fascia
requirement-flashing-fixing-spacing = gap from fixing to fixing along a flashing
requirement-finial-nails = number of nails in a finial
requirement-spare-sheets = number of spare sheets
requirement-spare-fixings-percent = spare nails and screws in each hundred
