"""The reader of shop files, the shops that ship, and the yard that a job may cut from."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from importlib.resources import files
from pathlib import Path

from pydantic import ValidationError

from evenfoot.errors import JobFileError
from evenfoot.job.build import build_stock
from evenfoot.job.file.common import stretches_of
from evenfoot.job.file.faults import faults_of, located
from evenfoot.job.file.shop_tables import RackTable, ShopFile
from evenfoot.job.file.text import read_text, read_tree
from evenfoot.job.kinds import PriceBy, Standard
from evenfoot.job.model import Job
from evenfoot.job.parse import known_unit
from evenfoot.job.shop import FixingItem, Offcut, Price, Shop, Yard


def read_shop(path: Path | str | None, standard: Standard = Standard.JAPAN) -> Shop:
    """Return the shop in the file at ``path``; without a path the sample shop that ships for ``standard``.

    Raises: JobFileError with every fault of the file, each with its path and line.
    """
    if path is None:
        return _sample(standard)
    path = Path(path)
    return parse_shop(read_text(path), name=path.name)


def parse_shop(text: str, name: str = "shop") -> Shop:
    """Return the shop in a TOML text.

    Raises: JobFileError with every fault of the text, each with its path and line.
    """
    tree = read_tree(text, where=name)
    entries = tree.get("stock")
    if isinstance(entries, list):
        tree["stock"] = [{"strength_grade": "ungraded"} | e if isinstance(e, dict) else e for e in entries]
    try:
        file = ShopFile.model_validate(tree, context={"unit": known_unit(tree)})
    except ValidationError as error:
        raise JobFileError(*located(faults_of(error, ShopFile), text)) from error
    return _shop(file)


def yard_for(job: Job, shop: Shop) -> Yard:
    """Return the timber that the job may be cut from; its own stock replaces the shop's of the same section."""
    own = {(item.species, frozenset((item.width, item.depth))) for item in job.stock}
    rest = (item for item in shop.stock if (item.species, frozenset((item.width, item.depth))) not in own)
    return Yard(
        stock=(*job.stock, *rest),
        rack=shop.rack,
        kerf=shop.kerf,
        end_trim=shop.end_trim,
        keep=shop.keep,
        keep_worth=shop.keep_worth,
        goals=shop.goals,
        together=job.cutting.together,
    )


def shop_template(standard: Standard) -> str:
    """Return the text of the sample shop that ships for ``standard``, to be copied and filled in."""
    return (files("evenfoot.job") / "data" / f"shop-{standard}.toml").read_text(encoding="utf-8")


@cache
def _sample(standard: Standard) -> Shop:
    return parse_shop(shop_template(standard), name=f"shop-{standard}")


def _shop(file: ShopFile) -> Shop:
    stock = build_stock(file.stock)
    return Shop(
        currency=file.currency,
        tax=file.tax,
        overhead=file.overhead,
        hour=_price(file.price.hour, PriceBy.HOUR, file.asked_on),
        coating=_price(file.price.coating, PriceBy.LITRE, file.asked_on),
        footing=_price(file.price.footing, PriceBy.PIECE, file.asked_on),
        kerf=float(file.saw.kerf),
        end_trim=float(file.saw.end_trim),
        keep=float(file.saw.keep),
        keep_worth=file.saw.keep_worth,
        goals=tuple(file.saw.goals),
        stock=tuple(replace(i, price=replace(i.price, asked_on=i.price.asked_on or file.asked_on)) for i in stock),
        rack=tuple(_offcut(entry, f"rack[{index}]") for index, entry in enumerate(file.rack)),
        fixings=tuple(
            FixingItem(
                mark=entry.mark,
                per_box=entry.per_box,
                price=_price(entry.price, PriceBy.BOX, entry.asked_on or file.asked_on),
                where=f"fixing[{index}]",
            )
            for index, entry in enumerate(file.fixing)
        ),
        rates=tuple((task, float(hours)) for task, hours in file.rates.items()),
        is_sample=file.sample,
    )


def _price(span: tuple[Decimal, Decimal], by: PriceBy, asked_on: date | None) -> Price:
    return Price(low=span[0], high=span[1], by=by, asked_on=asked_on)


def _offcut(entry: RackTable, where: str) -> Offcut:
    return Offcut(
        species=entry.species,
        look=entry.look,
        strength_grade=entry.strength_grade,
        width=float(entry.width),
        depth=float(entry.depth),
        length=float(entry.length),
        count=entry.count,
        clean_ends=entry.clean_ends,
        value=entry.value,
        where=where,
        bad=stretches_of(entry.bad),
        flaws=stretches_of(entry.flaws),
    )
