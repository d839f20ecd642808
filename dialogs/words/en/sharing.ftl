# Sending the list to a supplier.

share-ask = This is what your supplier would see:
share-line = { $pieces } × { $name }: { $details }
share-line-packs = { $packs ->
        [one] 1 pack
       *[other] { $packs } packs
    } of { $pack } × { $name }: { $details }
share-line-length = { $pieces } × { $name }, { $length } long: { $details }
share-details = { $one }; { $other }
share-also = They also see the weight of each line and of the delivery ({ $mass }), the longest piece to carry, how many pieces are spare, the list's prices, a number for the order, the plan's version and today's date. They don't see your name, this chat, or your answers.
share-days = The link works for { $days ->
        [one] one day
       *[other] { $days } days
    }. For another time, say for example “7 days”. Shall I make the link?
share-made = Here is the link. It works for { $days ->
        [one] one day
       *[other] { $days } days
    }. Whoever has it can see the list and send you prices, so give it to your supplier only.
share-link =
    Your supplier's link:
    { $link }
share-made-then = They can mark what is in stock and put prices in; the answer comes to you here. To close it, say “revoke the link”.
share-revoked = The link is closed. Nobody can open the list any more.
share-none = There is no open link.
share-not-here = I can't make a link here: that needs the web page. You can show your supplier the list instead: say “what to buy”.
share-outdated = The list has changed. The link you gave still shows the old one: say “send to supplier” for a new link.
button-share = Yes, make the link
button-share-not = No, don't share
button-revoke = Close the link
button-send = Send to supplier

quote = Your supplier has answered.
quote-line = { $pieces } × { $name }: { $stock }
quote-line-price = { $pieces } × { $name }: { $stock }, { $price }
quote-in = in stock
quote-out = not in stock
quote-instead = instead “{ $what }”
quote-unsaid = stock not said
quote-total = { $open ->
        [0] In all { $total }.
        [one] In all { $total }, without the one line that has no price.
       *[other] In all { $total }, without the { $open } lines that have no price.
    }
quote-check-substitute = Before you take something else instead, check that its size is the same. Laps and nails depend on it.
quote-of-older-plan = Mind: your plan has changed since they got the list.
