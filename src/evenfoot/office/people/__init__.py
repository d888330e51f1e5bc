"""Who may come in: signing in and out, the list of people, phones, and what each role may do."""

from evenfoot.office.people.again import give_back, listed, open_list
from evenfoot.office.people.entry import (
    AT_THE_MACHINE,
    IDLE,
    Entry,
    Visitor,
    end_session,
    has_people,
    open_first,
    sessions,
    sign_in,
    sign_out,
    visitor_of,
)
from evenfoot.office.people.pairing import Offer, look_at_pairing, offer_pairing, pair_phone
from evenfoot.office.people.rights import RIGHTS, Action, check, may
from evenfoot.office.people.roll import (
    add_person,
    change_passphrase,
    change_role,
    everyone,
    give_passphrase,
    remove_person,
    rename_person,
    role_of,
)
from evenfoot.store import Person, Role, Session, Store

__all__ = [
    "AT_THE_MACHINE",
    "IDLE",
    "RIGHTS",
    "Action",
    "Entry",
    "Offer",
    "Person",
    "Role",
    "Session",
    "Store",
    "Visitor",
    "add_person",
    "change_passphrase",
    "change_role",
    "check",
    "end_session",
    "everyone",
    "give_back",
    "give_passphrase",
    "has_people",
    "listed",
    "look_at_pairing",
    "may",
    "offer_pairing",
    "open_first",
    "open_list",
    "pair_phone",
    "remove_person",
    "rename_person",
    "role_of",
    "sessions",
    "sign_in",
    "sign_out",
    "visitor_of",
]
