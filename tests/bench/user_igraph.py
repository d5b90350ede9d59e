#!/usr/bin/env python3
"""The same as user_networkx.py, by somebody who knows pandas and igraph.

    user_igraph.py CONDUCTORS READINGS     prints the readings that disagree, and last how many
"""

import sys

import igraph
import numpy
import pandas

conductors = pandas.read_csv(sys.argv[1], usecols=["from", "to"], dtype=str)
readings = pandas.read_csv(sys.argv[2], dtype=str)

numbers, names = pandas.factorize(pandas.concat([conductors["from"], conductors["to"]]))
edges = numpy.column_stack(numpy.split(numbers, 2))
graph = igraph.Graph(n=len(names), edges=edges)
net_of = numpy.array(graph.connected_components().membership)

index = pandas.Index(names)
joined = net_of[index.get_indexer(readings["from"])] == net_of[index.get_indexer(readings["to"])]
wrong = readings[joined != (readings["value"] == "beep")]
for row in wrong.itertuples(index=False):
    print(row.id, *row[:3])
print(len(wrong))
