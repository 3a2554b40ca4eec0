"""Phrases of what is somebody's own or their family's: what they have or are bought is none of the group's books."""

from __future__ import annotations

KIN = (
    "kid|kids|child|son|sons|daughter|daughters|boy|boys|girl|girls|twins|toddler|baby|niece|nieces|nephew|nephews|cousin"
    "|cousins|grandson|granddaughter|grandkids|husband|hubby|wife|partner|mum|mom|mam|dad|mother|father|sister|sisters"
    "|brother|brothers|aunt|auntie|uncle|nan|gran|granny|grandma|grandpa|roommate|flatmate|friend|boss|teacher|neighbor"
    "|neighbour|neighbors|neighbours|landlord|dog|cat"
)
"""Family, and whom one lives or works with, as cues write them."""
_SELF = "myself|himself|herself|themselves|yourself"
FOR_ONESELF = (
    f"got|bought|grabbed|treated|treating|treat|get|buy|bagged {_SELF}",
    f"for {_SELF}",
    "treated me|us|him|her",
    f"for my|his|her|their|your|ur {KIN}",
    "for our toddler|baby|dog|cat|twins",
    "for the office|bathroom|dog|cat|baby|toddler",
    f"got|bought|buy|buys|getting|gets|get my|his|her|their {KIN}",
)
"""Phrases of a purchase that is for oneself or for one's own."""
