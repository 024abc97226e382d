#!/usr/bin/env python3
"""Sunrise, solar noon and sunset by an independent library, for core's tests: sun_ephem.py > TABLE

The library is PyEphem, in Debian: apt-get install python3-ephem. Run once; the table is committed.
"""
import datetime
import math

import ephem

PLACES = [(-2.19, -79.89), (13.08, 80.27), (10.03, 105.79), (29.10, -110.95), (0, 0), (-12.46, 130.84),
          (-23.5, -45.2), (21.4, 39.1), (5.3, -4.1), (-17.8, 178.2)]
DAYS = ["2024-03-20", "2024-06-20", "2024-12-21", "2025-02-11", "2025-11-03"]


def stamp(date):
    moment = date.datetime()
    return (moment + datetime.timedelta(microseconds=500000)).strftime("%Y-%m-%dT%H:%M:%SZ")


print("# sunrise, upper transit and sunset of the sun, UTC, on the civil day of the clock at utc_offset_h")
print("# made by: python3 tests/published/sun_ephem.py > tests/published/sun_ephem.csv")
# Rising and setting are of the upper limb already, so that the horizon of -0:34 holds refraction alone: -0:50 would
# count the half diameter twice.
print(f"# with PyEphem {ephem.__version__}, pressure 0, horizon -0:34 for the upper limb")
print("latitude_deg,longitude_deg,utc_offset_h,date,sunrise,solar_noon,sunset")
for latitude, longitude in PLACES:
    offset_h = round(longitude / 15)
    for day in DAYS:
        midnight = ephem.Date(day.replace("-", "/")) - offset_h * ephem.hour
        place = ephem.Observer()
        place.lat, place.lon = math.radians(latitude), math.radians(longitude)
        place.pressure = 0
        place.horizon = "-0:34"
        place.date = midnight
        sun = ephem.Sun()
        rise = place.next_rising(sun)
        noon = place.next_transit(sun)
        place.date = rise
        setting = place.next_setting(sun)
        print(f"{latitude},{longitude},{offset_h},{day},{stamp(rise)},{stamp(noon)},{stamp(setting)}")
