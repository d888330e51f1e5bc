"""From a job file's tables to the checked job: everything in mm, N, degrees C and percent."""

from __future__ import annotations

from fractions import Fraction

from evenfoot.job import model
from evenfoot.job.file import floor_tables, holding_tables, site_tables, tables
from evenfoot.job.file.outline import doubled_area
from evenfoot.job.file.sense import corners_of, gap_range
from evenfoot.job.kinds import Coating, Part
from evenfoot.job.shop import Price, StockItem


def build_job(file: tables.JobFile) -> model.Job:
    """Return the job that a file without faults describes."""
    return model.Job(
        name=file.name,
        unit=file.unit,
        standard=file.standard,
        date=file.date,
        paper=file.paper,
        site=_site(file.site),
        floor=_floor(file.floor),
        frame=_frame(file.frame),
        loads=_loads(file.loads),
        finish=_finish(file.finish),
        climate=_climate(file.climate),
        crew=model.Crew(
            people=file.crew.people,
            hours_a_day=float(file.crew.hours_a_day),
            start=file.crew.start,
            where="crew",
        ),
        cutting=model.CutWish() if file.cutting is None else _wish(file.cutting),
        stock=build_stock(file.stock),
        guard=holding_tables.guard_of(file.guard),
        makers=holding_tables.makers_of(file.makers),
    )


def _wish(cutting: tables.CuttingTable) -> model.CutWish:
    wanted = () if cutting.spare is None else tuple((part, getattr(cutting.spare, part)) for part in Part)
    return model.CutWish(
        spares=tuple((part, count) for part, count in wanted if count),
        together=tuple(dict.fromkeys(cutting.together)),
    )


def build_stock(entries: list[tables.StockTable]) -> tuple[StockItem, ...]:
    """Return the sections that can be bought."""
    return tuple(_stock_item(entry, f"stock[{index}]") for index, entry in enumerate(entries))


def _stock_item(entry: tables.StockTable, where: str) -> StockItem:
    low, high = entry.price
    return StockItem(
        species=entry.species,
        look=entry.look,
        strength_grade=entry.strength_grade,
        width=float(entry.width),
        depth=float(entry.depth),
        rough_width=float(entry.width if entry.rough_width is None else entry.rough_width),
        rough_depth=float(entry.depth if entry.rough_depth is None else entry.rough_depth),
        lengths=tuple(sorted(float(length) for length in entry.lengths)),
        available=entry.available,
        price=Price(low=low, high=high, by=entry.price_by, asked_on=entry.asked_on),
        label=entry.label,
        where=where,
        stands_in_for=tuple(entry.stands_in_for),
    )


def _site(site: site_tables.SiteTable) -> model.SiteSpec:
    return model.SiteSpec(
        has_house=site.house,
        sill=float(site.sill),
        ground=site.ground,
        surface=site.surface,
        accuracy=float(site.accuracy),
        stations=_stations(site.station),
        levels=tuple(
            model.LevelReading(
                name=row.name or f"p{index + 1}",
                x=float(row.x),
                y=float(row.y),
                z=float(row.z),
                where=f"site.levels[{index}]",
            )
            for index, row in enumerate(site.levels)
        ),
        wall=tuple(
            model.WallOffset(x=float(row.x), out=float(row.out), where=f"site.wall[{index}]")
            for index, row in enumerate(site.wall)
        ),
        obstacles=tuple(_obstacle(entry, f"site.obstacle[{index}]") for index, entry in enumerate(site.obstacle)),
        where="site",
        soil=site.soil,
        bearing=_optional(site.bearing),
    )


def _stations(stations: list[site_tables.StationTable]) -> tuple[model.Station, ...]:
    built: list[model.Station] = []
    count = 0
    for index, station in enumerate(stations):
        where = f"site.station[{index}]"
        rows = tuple(
            model.RodReading(
                name=row.name or f"r{count + number + 1}",
                x=float(row.x),
                y=float(row.y),
                rod=float(row.rod),
                where=f"{where}.readings[{number}]",
            )
            for number, row in enumerate(station.readings)
        )
        count += len(rows)
        built.append(
            model.Station(
                on=float(station.on),
                backsight=float(station.backsight),
                closing=_optional(station.closing),
                readings=rows,
                where=where,
            )
        )
    return tuple(built)


def _obstacle(entry: site_tables.ObstacleTable, where: str) -> model.Obstacle:
    return model.Obstacle(
        name=entry.name,
        x=float(entry.x),
        y=float(entry.y),
        width=float(entry.width),
        depth=float(entry.depth),
        clearance=float(entry.clearance),
        where=where,
    )


def _floor(floor: floor_tables.FloorTable) -> model.FloorSpec:
    corners = corners_of(floor)
    if doubled_area(corners) < 0:
        corners.reverse()
    overhang = floor.overhang
    return model.FloorSpec(
        outline=tuple((float(x), float(y)) for x, y in corners),
        drop=float(floor.drop),
        fall=float(floor.fall),
        board=_board(floor.board),
        overhang=model.Overhang(
            wall=float(overhang.wall),
            outer=float(overhang.outer),
            left=float(overhang.left),
            right=float(overhang.right),
            where="floor.overhang",
        ),
        where="floor",
    )


def _board(board: floor_tables.BoardTable) -> model.BoardSpec:
    gap_min, gap_max = gap_range(board)
    return model.BoardSpec(
        thickness=float(board.thickness),
        width=float(board.width),
        species=board.species,
        look=board.look,
        strength_grade=board.strength_grade,
        direction_deg=float(board.direction_deg),
        gap=float(board.gap),
        gap_min=float(gap_min),
        gap_max=float(gap_max),
        closing=board.closing,
        rip_min=float(board.width / 2 if board.rip_min is None else board.rip_min),
        end_gap=float(board.end_gap),
        where="floor.board",
    )


def _frame(frame: floor_tables.FrameTable) -> model.FrameSpec:
    return model.FrameSpec(
        style=frame.style,
        beam=_member(frame.beam, "frame.beam"),
        joist=_member(frame.joist, "frame.joist"),
        post=_member(frame.post, "frame.post"),
        setback=float(frame.setback),
        joints=model.JointSpec(
            joist=frame.joints.joist,
            post_joist=frame.joints.post_joist,
            seat=_optional(frame.joints.seat),
            splice=frame.joints.splice,
        ),
        footing=model.FootingSpec(
            kind=frame.footing.kind,
            height=float(frame.footing.height),
            size=float(frame.footing.size),
            is_bedded_level=frame.footing.bedded_level,
        ),
        rough_allowance=float(frame.rough_allowance),
        where="frame",
        post_lines=tuple(float(line) for line in frame.post_lines or ()),
        held=holding_tables.held_of(frame.held),
        ledger=holding_tables.ledger_of(frame.ledger),
    )


def _member(member: floor_tables.MemberTable, where: str) -> model.MemberSpec:
    return model.MemberSpec(
        width=float(member.width),
        depth=float(member.depth),
        species=member.species,
        look=member.look,
        strength_grade=member.strength_grade,
        is_seen=member.seen,
        spacing_max=float(member.spacing_max),
        where=where,
    )


def _loads(loads: tables.LoadsTable) -> model.LoadSpec:
    return model.LoadSpec(
        use=loads.use,
        wetness=loads.wetness,
        snow_depth=float(loads.snow_depth),
        is_heavy_snow_area=loads.heavy_snow_area,
        person=float(loads.person),
        where="loads",
        roof_snow=loads.roof_snow,
        sideways=_optional(loads.sideways),
        earthquake=_optional(loads.earthquake),
        wind=_optional(loads.wind),
        uplift=_optional(loads.uplift),
        heavy=holding_tables.heavy_of(loads.heavy),
    )


def _finish(finish: tables.FinishTable) -> model.Finish:
    usual = 0 if finish.kind is Coating.NONE else 2
    coats = usual if finish.coats is None else finish.coats
    return model.Finish(kind=finish.kind, coats=coats, hidden_first=finish.hidden_first, where="finish")


def _climate(climate: tables.ClimateTable) -> model.Climate:
    return model.Climate(
        fixing=float(climate.fixing),
        dry=float(climate.dry),
        wet=float(climate.wet),
        temperature=float(climate.temperature),
        humidity=float(climate.humidity),
        where="climate",
    )


def _optional(value: Fraction | None) -> float | None:
    return None if value is None else float(value)
