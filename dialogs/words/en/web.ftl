# What stands on the pages themselves.

day = { $day } { $month ->
        [1] January
        [2] February
        [3] March
        [4] April
        [5] May
        [6] June
        [7] July
        [8] August
        [9] September
        [10] October
        [11] November
       *[12] December
    } { $year }
sheet-dates = Made on { $made }. This link works until { $until }.

## The chat

page-title = lapwise – your roof, sheet by sheet
page-about = Sheets for a small roof
page-skip = Skip to your answer
page-chat = Chat
page-you = You said:
page-bot = lapwise said:
page-choices = Quick answers
page-your-answer = Your answer
page-send = Send
page-thinking = Thinking
page-trouble = That didn't get through. Please check your connection and send it again.
page-download = Download:
page-link-code = Code of the link, for a phone to read

## Notices

notice-back = Back to the chat
notice-gone-title = This link no longer works
notice-gone = It was closed, it has run out, or it was not copied whole. Please ask for a new one.
notice-lost-title = There is nothing here
notice-lost = This page doesn't exist.
notice-ended-title = This page is out of date
notice-ended = Your message wasn't sent. Go back to the chat and send it again.
notice-too-fast-title = That was a bit fast
notice-too-fast = Please wait a few seconds, then send it again.
notice-too-long-title = That was too long
notice-too-long = Please send it in smaller parts.
notice-too-long-by = Letters too many:
notice-private-title = Not open yet
notice-private = This page is only being tried out on one computer. Whoever runs it must name a key before others can use it.
notice-trouble-title = Something went wrong
notice-trouble = That was our fault. Your answers are safe. Please try again.
notice-often-title = Answered already
notice-often = This list has been answered many times. Please ask for a new link.

## The supplier's sheet

sheet-title = List for the supplier
sheet-intro = Somebody is planning a small roof and asks what you have. Please mark each line, then send it back. No need to sign in.
sheet-order = { $has ->
        [0] { "" }
       *[other] Order { $reference }, plan { $version }.
    }
sheet-spare = { $spare } of them spare
sheet-listed = listed at { $price } { $currency }
sheet-list = What they need
sheet-pieces = packs:
sheet-stock = Stock
sheet-in = In stock
sheet-out = Not in stock
sheet-instead = Something else instead
sheet-instead-what = Instead
sheet-price = Price for all
sheet-price-hint = The price is for the whole line. Leave out what you don't know.
sheet-send = Send back
sheet-sent = Thank you. Your answer has been sent. You can change it and send it again.
sheet-answered = You have answered this list. You can change your answer and send it again.
sheet-csv = Download the list (CSV)
sheet-wrong = This has not been sent yet. Please look at the lines marked below.
sheet-nothing-marked = Nothing is marked yet, so nothing was sent.
sheet-wrong-price = Please write the price as a plain number, for example 12.50.
sheet-wrong-currency = This list is in { $currency ->
        [GBP] pounds
        [EUR] euros
        [USD] dollars
       *[other] { $currency }
    }. Please write the price in that money, for example 12.50.
sheet-wrong-instead = Say what you have instead, or choose another mark. Words here go with “something else instead” only.
sheet-privacy = What you send goes to the person who gave you this link, and to nobody else.
