"""Big cities by the zone they keep, for those that have no zone of their own name.

From memory; the zones are the tz database's.
"""

from __future__ import annotations

CITIES = {
    "Barcelona": "Europe/Madrid", "Valencia": "Europe/Madrid", "Seville": "Europe/Madrid",
    "Porto": "Europe/Lisbon", "Milan": "Europe/Rome", "Naples": "Europe/Rome", "Turin": "Europe/Rome",
    "Lyon": "Europe/Paris", "Marseille": "Europe/Paris", "Lille": "Europe/Paris", "Nantes": "Europe/Paris",
    "Munich": "Europe/Berlin", "Hamburg": "Europe/Berlin", "Cologne": "Europe/Berlin",
    "Frankfurt": "Europe/Berlin", "Stuttgart": "Europe/Berlin", "Leipzig": "Europe/Berlin",
    "Geneva": "Europe/Zurich", "Basel": "Europe/Zurich", "Salzburg": "Europe/Vienna", "Graz": "Europe/Vienna",
    "Rotterdam": "Europe/Amsterdam", "The Hague": "Europe/Amsterdam", "Antwerp": "Europe/Brussels",
    "Gothenburg": "Europe/Stockholm", "Malmo": "Europe/Stockholm", "Bergen": "Europe/Oslo",
    "Aarhus": "Europe/Copenhagen", "Tampere": "Europe/Helsinki", "Krakow": "Europe/Warsaw",
    "Gdansk": "Europe/Warsaw", "Wroclaw": "Europe/Warsaw", "Brno": "Europe/Prague", "Thessaloniki": "Europe/Athens",
    "Kharkiv": "Europe/Kyiv", "Lviv": "Europe/Kyiv", "Saint Petersburg": "Europe/Moscow",
    "Manchester": "Europe/London", "Birmingham": "Europe/London", "Edinburgh": "Europe/London",
    "Glasgow": "Europe/London", "Bristol": "Europe/London", "Leeds": "Europe/London", "Cardiff": "Europe/London",
    "Liverpool": "Europe/London", "England": "Europe/London", "Scotland": "Europe/London",
    "Wales": "Europe/London", "UK": "Europe/London", "Cork": "Europe/Dublin", "Galway": "Europe/Dublin",
    "Ankara": "Europe/Istanbul", "Izmir": "Europe/Istanbul", "Tel Aviv": "Asia/Jerusalem",
    "Mumbai": "Asia/Kolkata", "Bombay": "Asia/Kolkata", "Delhi": "Asia/Kolkata", "New Delhi": "Asia/Kolkata",
    "Bangalore": "Asia/Kolkata", "Bengaluru": "Asia/Kolkata", "Chennai": "Asia/Kolkata",
    "Hyderabad": "Asia/Kolkata", "Pune": "Asia/Kolkata", "Lahore": "Asia/Karachi", "Islamabad": "Asia/Karachi",
    "Beijing": "Asia/Shanghai", "Shenzhen": "Asia/Shanghai", "Guangzhou": "Asia/Shanghai",
    "Chengdu": "Asia/Shanghai", "Osaka": "Asia/Tokyo", "Kyoto": "Asia/Tokyo", "Sapporo": "Asia/Tokyo",
    "Busan": "Asia/Seoul", "Hanoi": "Asia/Ho_Chi_Minh", "Abu Dhabi": "Asia/Dubai",
    "Canberra": "Australia/Sydney", "Wellington": "Pacific/Auckland", "Christchurch": "Pacific/Auckland",
    "Cape Town": "Africa/Johannesburg", "Durban": "Africa/Johannesburg", "Pretoria": "Africa/Johannesburg",
    "Alexandria": "Africa/Cairo", "Marrakesh": "Africa/Casablanca", "Abuja": "Africa/Lagos",
    "Boston": "America/New_York", "Washington": "America/New_York", "Washington DC": "America/New_York",
    "Philadelphia": "America/New_York", "Miami": "America/New_York", "Atlanta": "America/New_York",
    "Pittsburgh": "America/New_York", "Baltimore": "America/New_York", "Cleveland": "America/New_York",
    "NYC": "America/New_York", "Brooklyn": "America/New_York", "Charlotte": "America/New_York",
    "Houston": "America/Chicago", "Dallas": "America/Chicago", "Austin": "America/Chicago",
    "San Antonio": "America/Chicago", "Minneapolis": "America/Chicago", "New Orleans": "America/Chicago",
    "Nashville": "America/Chicago", "Milwaukee": "America/Chicago", "St Louis": "America/Chicago",
    "Salt Lake City": "America/Denver", "Albuquerque": "America/Denver", "San Francisco": "America/Los_Angeles",
    "San Diego": "America/Los_Angeles", "Seattle": "America/Los_Angeles", "Portland": "America/Los_Angeles",
    "Las Vegas": "America/Los_Angeles", "Oakland": "America/Los_Angeles", "LA": "America/Los_Angeles",
    "Sacramento": "America/Los_Angeles", "Ottawa": "America/Toronto", "Quebec": "America/Toronto",
    "Calgary": "America/Edmonton", "Victoria": "America/Vancouver", "Guadalajara": "America/Mexico_City",
    "Rio de Janeiro": "America/Sao_Paulo", "Rio": "America/Sao_Paulo", "Brasilia": "America/Sao_Paulo",
    "Medellin": "America/Bogota", "Quito": "America/Guayaquil",
}  # fmt: skip

WELL_KNOWN = (
    "Europe/London", "Europe/Lisbon", "Europe/Paris", "Europe/Berlin", "Europe/Madrid", "Europe/Rome",
    "Europe/Athens", "Europe/Helsinki", "Europe/Istanbul", "Europe/Moscow", "Africa/Lagos", "Africa/Cairo",
    "Africa/Johannesburg", "Africa/Nairobi", "Asia/Dubai", "Asia/Tehran", "Asia/Karachi", "Asia/Kolkata",
    "Asia/Kathmandu", "Asia/Dhaka", "Asia/Bangkok", "Asia/Jakarta", "Asia/Singapore", "Asia/Shanghai",
    "Asia/Tokyo", "Asia/Seoul", "Australia/Perth", "Australia/Adelaide", "Australia/Brisbane",
    "Australia/Sydney", "Pacific/Auckland", "Pacific/Honolulu", "America/Anchorage", "America/Los_Angeles",
    "America/Phoenix", "America/Denver", "America/Chicago", "America/Mexico_City", "America/New_York",
    "America/Toronto", "America/Bogota", "America/Lima", "America/Caracas", "America/Halifax",
    "America/Santiago", "America/Sao_Paulo", "America/Argentina/Buenos_Aires", "America/St_Johns",
    "Atlantic/Azores", "Atlantic/Reykjavik",
)  # fmt: skip
"""Zones that are offered where only the distance from Greenwich was said."""

ABBREVIATIONS = {
    "est": ("America/New_York",), "edt": ("America/New_York",), "et": ("America/New_York",),
    "cst": ("America/Chicago", "Asia/Shanghai"), "cdt": ("America/Chicago",), "ct": ("America/Chicago",),
    "mst": ("America/Denver", "America/Phoenix"), "mdt": ("America/Denver",), "mt": ("America/Denver",),
    "pst": ("America/Los_Angeles",), "pdt": ("America/Los_Angeles",), "pt": ("America/Los_Angeles",),
    "gmt": ("Europe/London", "Atlantic/Reykjavik"), "bst": ("Europe/London",), "wet": ("Europe/Lisbon",),
    "cet": ("Europe/Paris", "Europe/Berlin", "Europe/Rome"), "cest": ("Europe/Paris", "Europe/Berlin", "Europe/Rome"),
    "eet": ("Europe/Athens", "Europe/Helsinki"), "ist": ("Asia/Kolkata", "Europe/Dublin"), "jst": ("Asia/Tokyo",),
    "aest": ("Australia/Sydney", "Australia/Brisbane"), "nzst": ("Pacific/Auckland",),
}  # fmt: skip
"""Names of clocks, which do not say where: what they may mean is offered."""
