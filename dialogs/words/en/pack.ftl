### The papers: the roof pack and the supplier sheet.

pack-title = Roof pack
pack-made = Made on { $date }, with catalogue { $catalogue }, by book and planner { $version }.
pack-local-codes = Check this plan against local codes before you buy or start. Where a licence is needed, let a licensed person do the work.
pack-demo = The sheets and pieces here are an invented demo range. Check every size against the label of what you buy.
pack-footer = Catalogue { $catalogue }, by { $version }. Made on { $date }. Check against local codes.
pack-your-roof = Your roof
pack-specification = What your roof needs
pack-what = What
pack-value = How much
pack-why = Why
pack-limit = { $limit }
pack-source = Source of these – { $names }: { $source }.
pack-as-above = As above.
pack-advice = Good to know
pack-drawings = Drawings
pack-materials = What to buy
pack-item = Item
pack-item-name = { $name }{ $more ->
        [0] { "" }
       *[other] . { $details }
    }
pack-item-length = { $name }, { $length }{ $more ->
        [0] { "" }
       *[other] . { $details }
    }
pack-mass = Weight
pack-line-price = Price
pack-money = { $price }
pack-name = Name
pack-site = Site
pack-key-sheets = Sheets
pack-key-sheets-of = { $sheets }, and { $spare } spare: { $name }
pack-key-nails = Nails or screws through the sheets
pack-key-nails-of = { $all }, { $lengths } long{ $own ->
        [0] { "" }
       *[other] : { $through } through the sheets, and { $own } that hold edge pieces alone
    }
pack-key-weight = Weight
pack-key-weight-of = { $mass } on { $area }, that is { $per_m2 } on each square metre
pack-key-time = Time
pack-key-time-of = About { $hours ->
        [one] one hour
       *[other] { $hours } hours
    } for { $hands ->
        [one] one person
       *[other] { $hands } people
    }, or { $days ->
        [one] one day
       *[other] { $days } days
    } of { $a_day } hours
pack-key-price = Price
pack-key-price-of = { $price } in all, with prices from { $date }{ $without ->
        [0] { "" }
        [one] , without the one line that has no price
       *[other] , without the { $without } lines that have no price
    }
pack-timber-cuts = Timber to cut
pack-timber = Lengths
pack-timber-length = Bought
pack-timber-cut = Cut each to
pack-timber-whole = Leave whole
pack-timber-purlins = For purlins, from the eaves
pack-for = What for
pack-needed = Needed
pack-spare = Spare
pack-buy = Buy
pack-weight = The covering weighs { $mass }. That is { $per_m2 } on each square metre of { $area }.
pack-price = { $without ->
        [0] In all { $price }. Prices from { $date }.
        [one] In all { $price }, without the one line that has no price. Prices from { $date }.
       *[other] In all { $price }, without the { $without } lines that have no price. Prices from { $date }.
    }
pack-tools = Tools and what to wear
pack-cut-list = Cut list
pack-sheets = Sheets
pack-piece = Piece
pack-piece-for-back = { $piece }, for the back slope
pack-length = Length
pack-width = Width
pack-corrugations = Corrugations
pack-cautions = Before anything else
pack-work = Order of work
pack-worked-out = How this was worked out

supplier-title = Order for the supplier
supplier-order = Order { $reference }, made on { $date }, plan { $version }.
supplier-who = Name
supplier-telephone = Telephone
supplier-delivery = Deliver to, and when
supplier-item = { $name }{ $more ->
        [0] { "" }
       *[other] . { $details }
    }.{ $spare ->
        [0] { "" }
       *[other] {" "}{ $spare } of them spare.
    }
supplier-mass = Weight
supplier-line-mass = { $mass }
supplier-list-price = Price list
supplier-total = By the price list of { $date }: { $total } { $currency } in all{ $without ->
        [0] .
        [one] , without the one line that has no price.
       *[other] , without the { $without } lines that have no price.
    }
supplier-name = Item
supplier-pieces = Pieces
supplier-packs = Packs
supplier-packs-of = { $packs } × { $pack }
supplier-price = Price
supplier-stock = In stock
supplier-weight = The whole delivery weighs { $mass }{ $by_size ->
        [0] { "" }
       *[other] , the sheets by their size and not weighed
    }. The longest piece is { $longest }.
supplier-note = Please fill in the price and what is in stock. All lines: or equal, of the same size, wave and quality; please say what it is. Lengths are to be picked, or cut as listed.
