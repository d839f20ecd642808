### What the checks of strength, water and damp say: in the chat, on paper, and by `lapwise check`.

check-intro =
    These sums follow published methods, as far as this roof is known. They replace no engineer. Nobody has looked at the
    foundations, the walls, or how the roof is tied down to them. Local codes come first.
check-nothing = There is nothing here to check by: the book holds no figures for it.
check-of-slope = { $check }, { $slope }
check-finds-fine = Fine
check-finds-more = Needs more
check-finds-beyond = Beyond this book
check-result = { $finds }. { $used } % of what it holds is used.
check-result-plain = { $finds }.
check-clause = By { $clause }
check-unseen = Not looked at: { $unseen }.
check-not-measured = The rafters were not looked at: I don't know their size. Let somebody look at them who knows timber.
check-assumed = Not told, so I took the book's own value for: { $facts }.

check-title-wind = The wind
check-title-snow = The snow
check-title-purlins = Purlins on the rafters
check-title-deck = The deck
check-title-rafters = The rafters
check-title-uplift = What holds the sheets down
check-title-purlin-screws = What holds the purlins down
check-title-gutter = The gutter
check-title-damp = Drips from inside
check-title-access = Getting up there

check-open-closed = walls all round
check-open-one-side = one side open
check-open-canopy = three sides open or more
check-load-person = a person on it
check-load-snow = the snow
check-load-wind = the wind
check-load-sag = how far it sags
check-outlet-end = one outlet, at an end
check-outlet-middle = one outlet, in the middle
check-room-heated = a heated room
check-room-unheated = a room without heating

check-wind-says =
    Wind of { $speed } (ten minutes' mean, once in fifty years) presses with up to { $peak } in its gusts, at the height of
    your roof, with { $open }.
check-snow-says = Snow of { $ground } on the ground makes { $roof } on your roof, on plan.
check-snow-says-drift =
    Snow of { $ground } on the ground makes up to { $roof } on your roof, on plan: it drifts and slides against what
    stands higher beside it.
check-snow-assumed = That is the book's own cautious figure: nobody has told me where the building stands.
check-purlins-says =
    { $timber }, over rafters { $spacing } apart: { $used } % used. What uses it most is { $by }.
check-deck-says = Your deck of { $deck } carries over timbers { $spacing } apart: { $used } % used.
check-deck-says-walk =
    Your deck of { $deck } carries the snow over timbers { $spacing } apart, but not for sure a person who stands between
    them ({ $used } % used). Lie boards across the timbers and work from those.
check-deck-says-beyond =
    Your deck of { $deck } is too thin for the snow over timbers { $spacing } apart ({ $used } % used). Ask a structural
    engineer before you load it.
check-rafters-says =
    Rafters of { $width } × { $depth } over { $span }: { $used } % used. What uses them most is { $by }.
check-rafters-says-beyond =
    Rafters of { $width } × { $depth } are too weak over { $span } ({ $used } % used, most by { $by }). Do not load
    them. Ask a structural engineer.
check-uplift-says =
    The wind pulls the hardest nail with { $pull }. It holds { $holds }: { $used } % used.
check-uplift-says-beyond =
    The wind pulls the hardest nail with { $pull }, and it holds { $holds } ({ $used } % used). That is not enough. Put
    them closer along the edges, or take longer ones into thicker timber, and ask who supplies them what they hold.
check-uplift-says-declared =
    The wind pulls the hardest fixing with { $pull }. The standard counts nothing for one that goes so little into the
    wood: ask the supplier what it holds, in your timber and at that depth. A thicker deck, or purlins, hold more.
check-uplift-says-no-table =
    No table reaches a roof so steep and so open. Ask a structural engineer what must hold it down.
check-screws-says =
    The wind pulls the purlins from each rafter with up to { $pull }. One screw holds { $holds }: { $used } % used.
check-screws-says-beyond =
    The wind pulls the purlins from each rafter with up to { $pull }, and one screw holds { $holds } ({ $used } % used).
    Put two in each crossing, and ask a structural engineer whether that will do.
check-screws-says-declared =
    The wind pulls the purlins from each rafter with up to { $pull }. The standard says nothing of screws so thin or so
    short in the wood: ask the supplier what they hold.
check-gutter-says =
    In a storm of { $rain } of rain in an hour { $flow } run off. A half-round gutter of { $gutter } takes that, level, with
    { $outlet }, and a downpipe of { $pipe }.
check-gutter-says-beyond =
    In a storm of { $rain } of rain in an hour { $flow } run off. That is more than two runs of the largest half-round
    gutter take: more outlets are wanted. Ask a gutter supplier.
check-damp-says = Over { $room } it should not drip from below. The roof lets { $u } through.
check-damp-says-bare =
    Over { $room } it will drip from the bare sheets on clear nights in { $months ->
        [one] one month
       *[other] { $months } months
    } of the year. The roof lets { $u } through. Let air in at the eaves and out at the ridge. A membrane below the sheets,
    or a deck, catches the drips.
check-damp-says-deck =
    Over { $room } it may get damp below the deck on clear nights in { $months ->
        [one] one month
       *[other] { $months } months
    } of the year. The roof lets { $u } through. Let air in at the eaves and out at the ridge. Insulation helps, with a
    vapour barrier on its warm side.
check-access-says = The eaves are { $eaves } up. A ladder of { $ladder } reaches them, one out at the foot for four up.
check-access-says-platform =
    With eaves { $eaves } up, work from a platform or a tower with a rail, not from a ladder: a fall from there can
    kill.
check-access-says-professional =
    The eaves are { $eaves } up. That wants a scaffold and people who are used to it. Let a roofer do it.
check-access-says-roof-ladder =
    At { $pitch } nobody stands safely on the slope. Use a roof ladder that hooks over the top.

unseen-wind-map = gusts between buildings; your own country's map of wind, which comes first
unseen-snow-map = ice and wet snow; your own country's map of snow, which comes first
unseen-rafters-and-walls = what carries them: the rafters, the walls and the foundations
unseen-rot = rot, knots and cuts
unseen-ties-and-walls = ties at their feet, the ridge, the walls and the foundations
unseen-sheet-tearing = whether the sheet tears over the nail's head; ask its maker
unseen-tied-down = whether the rafters are tied down to the walls
unseen-drains = the drain below
unseen-draughts = damp air that leaks through gaps, and wet that dries from new work
unseen-ground = the ground that a ladder or a tower stands on, and cables

sum-basic-wind = basic wind velocity
sum-top-height = height of the top of the roof
sum-basic-pressure = basic velocity pressure
sum-roughness = roughness of what is around
sum-orography = hill
sum-turbulence = turbulence
sum-peak-pressure = peak velocity pressure
sum-inside = pressure from inside
sum-in-edge-zone = hardest place of an edge zone
sum-in-field = hardest place of the field
sum-suction = suction on the strip of a purlin
sum-area = area that it holds
sum-pull = pull on it
sum-diameter = diameter
sum-bite = depth in the timber
sum-density = density of the timber
sum-share = share that counts so deep
sum-holds = what it holds
sum-snow-ground = snow on the ground
sum-snow-shape = shape of the even snow
sum-drift-reach = reach of the drift
sum-drift-blown = what the wind drops
sum-drift-slid = what slides down
sum-snow-roof = snow on the roof, on plan
sum-snow-on-slope = snow on the slope
sum-snow-across = snow square to the slope
sum-span = span
sum-strip = strip of roof that it carries
sum-strip-of-deck = strip of deck that carries one person
sum-width = width
sum-depth = depth
sum-thickness = thickness
sum-bending-strength = bending strength
sum-k-mod = time and damp
sum-k-h = size
sum-weight = weight of the roof
sum-moment-person = moment of a person in the middle
sum-use-person = used by a person
sum-use-snow = used by the snow
sum-use-wind = used by the wind
sum-use-sag = used by the sag
sum-rain = rain in an hour
sum-caught = area that catches rain
sum-caught-with-wall = the same with the wall above
sum-run-off = what runs off
sum-gutter-carries = what the gutter carries
sum-downpipe = what the downpipe carries
sum-resistance = resistance to warmth
sum-transmittance = warmth let through
sum-surface = coldest surface inside
sum-dew-point = dew point inside
sum-eaves = height of the eaves
sum-pitch = pitch
sum-ladder = ladder
