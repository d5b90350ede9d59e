#!/usr/bin/env python3
"""What somebody with Python and NetworkX would write to compare readings with a wire list.

    user_networkx.py CONDUCTORS READINGS     prints the readings that disagree, and last how many
"""

import csv
import sys

import networkx

graph = networkx.Graph()
with open(sys.argv[1], newline="") as file:
    for row in csv.DictReader(file):
        graph.add_edge(row["from"], row["to"])

net_of = {}
for number, points in enumerate(networkx.connected_components(graph)):
    for point in points:
        net_of[point] = number

disagree = 0
with open(sys.argv[2], newline="") as file:
    for row in csv.DictReader(file):
        joined = net_of[row["from"]] == net_of[row["to"]]
        if joined != (row["value"] == "beep"):
            print(row["id"], row["from"], row["to"], row["value"])
            disagree += 1
print(disagree)
