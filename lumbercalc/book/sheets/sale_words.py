"""What the paper of a sale says in words: whose it is, how board feet and money are reckoned."""

LETTERHEAD = (
    '=shop_name&IF(shop_address="","",", "&shop_address)&IF(shop_contact="","",", "&shop_contact)'
)
"""Under the title: the shop as it is typed on Start."""

MEASURE = (
    '=IF(sale_loss="","","Board feet are net"&IF(sale_loss=0,"",", a dry tally: the green tally '
    'less "&sale_loss&" % for shrinkage")&", each line to 0.01 bf. A slab is its mean width times '
    "its length. Money is to the cent, half a cent up, line by line; tax is on lines less returns, "
    'and delivery.")'
)
TERMS = (
    '=IF(sale_statement="","","The moisture content is that of the boards weighed or read. ")'
    '&"Wood takes up and gives off moisture, and moves, with the air of the place where it is '
    'used."&IF(sale_until="",""," These prices hold until the day above.")'
)

OF_THE_SHOP = '=shop_terms&""'
"""What the shop tells every buyer, across the page."""
