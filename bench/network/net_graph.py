"""What moves and what cannot: the parts of a network that a pump or a through-flow can drive.

One density holds for all static columns, so nothing else drives water. A branch carries water only if
it lies on a closed way with a pump in it, or with ground in it, to which fixed nodes and imposed
inflows are tied. The closed ways are the blocks of the graph (Hopcroft & Tarjan 1973).
"""


def blocks(nodes: int, edges: list[tuple[int, int]]) -> list[list[int]]:
    """The edges of each block. An edge from a node to itself is a block of its own."""
    around: list[list[tuple[int, int]]] = [[] for _ in range(nodes)]
    found = []
    for edge, (a, b) in enumerate(edges):
        if a == b:
            found.append([edge])
        else:
            around[a].append((edge, b))
            around[b].append((edge, a))
    order, low = [-1] * nodes, [0] * nodes
    clock = 0
    for root in range(nodes):
        if order[root] >= 0:
            continue
        order[root] = low[root] = clock
        clock += 1
        kept: list[int] = []
        way = [(root, -1, iter(around[root]))]
        while way:
            node, by, rest = way[-1]
            for edge, other in rest:
                if edge == by:
                    continue
                if order[other] < 0:
                    kept.append(edge)
                    order[other] = low[other] = clock
                    clock += 1
                    way.append((other, edge, iter(around[other])))
                    break
                if order[other] < order[node]:
                    kept.append(edge)
                    low[node] = min(low[node], order[other])
            else:
                way.pop()
                if way:
                    parent = way[-1][0]
                    low[parent] = min(low[parent], low[node])
                    if low[node] >= order[parent]:
                        start = kept.index(by)
                        found.append(kept[start:])
                        del kept[start:]
    return found


def parts(nodes: int, edges: list[tuple[int, int]]) -> list[int]:
    """For each node the number of the connected part that it lies in."""
    head = list(range(nodes))

    def top(node: int) -> int:
        while head[node] != node:
            head[node] = head[head[node]]
            node = head[node]
        return node

    for a, b in edges:
        head[top(a)] = top(b)
    return [top(node) for node in range(nodes)]
