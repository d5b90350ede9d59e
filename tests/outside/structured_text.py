"""A small interpreter of Structured Text, for checks; it shares nothing with the C++ code.

Written for reading: expressions are parsed by their own table of precedence into Python closures; blocks keep the moment
at which they started, not the time gone by. Source of the semantics: IEC 61131-3 (from memory).
"""
import re

TOKEN = re.compile(r"\s+|\(\*.*?\*\)|//[^\n]*|(T(?:IME)?#[\w.]+|%[\w.]+|[A-Za-z_]\w*|\d[\d_]*(?:\.\d+)?|:=|<>|<=|>=|[-();:,.=<>&])",
                   re.S | re.I)
LOOSEST_FIRST = [{"OR"}, {"XOR"}, {"AND", "&"}, {"=", "<>"}, {"<", ">", "<=", ">="}]
APPLY = {"OR": lambda a, b: a or b, "XOR": lambda a, b: a != b, "AND": lambda a, b: a and b, "&": lambda a, b: a and b,
         "=": lambda a, b: a == b, "<>": lambda a, b: a != b, "<": lambda a, b: a < b, ">": lambda a, b: a > b,
         "<=": lambda a, b: a <= b, ">=": lambda a, b: a >= b}
UNITS = {"D": 86400000, "H": 3600000, "M": 60000, "S": 1000, "MS": 1}
BLOCKS = ("SR", "RS", "R_TRIG", "F_TRIG", "TON", "TOF", "TP")


def duration(text):
    return round(sum(float(n) * UNITS[u] for n, u in re.findall(r"([\d.]+)([A-Z]+)", text.split("#")[1].upper())))


class Block:
    def __init__(self, kind):
        self.kind, self.q, self.last, self.started = kind, False, False, None

    def call(self, now, pt, first, second):
        kind, rose, fell = self.kind, first and not self.last, self.last and not first
        if kind == "SR":
            self.q = first or (not second and self.q)
        elif kind == "RS":
            self.q = not second and (first or self.q)
        elif kind == "R_TRIG":
            self.q = rose
        elif kind == "F_TRIG":
            self.q = fell
        elif kind == "TON":
            self.started = now if rose else self.started
            self.q = first and now - self.started >= pt
        elif kind == "TOF":
            self.started = None if first else now if fell else self.started
            self.q = first or (self.started is not None and now - self.started < pt)
            if not self.q:
                self.started = None
        elif kind == "TP":
            if self.started is not None and now - self.started >= pt:
                self.started = None
            if rose and self.started is None and pt > 0:
                self.started = now
            self.q = self.started is not None
        self.last = first

    def left(self, now, pt):
        """Milliseconds until this timer runs out; None if it does not run."""
        if self.kind == "TON":
            return self.started + pt - now if self.last and now - self.started < pt else None
        return None if self.started is None else self.started + pt - now

    def memory(self, now, pt):
        gone = None
        if self.kind in ("TON", "TOF", "TP") and self.started is not None and (self.kind != "TON" or self.last):
            gone = min(now - self.started, pt)
        return self.q, self.kind in ("R_TRIG", "F_TRIG", "TP", "TON") and self.last, gone


class Program:
    """Reads a program and runs it; all names in capitals."""

    def __init__(self, text, addresses):
        self.tokens = [m.group(1).upper() for m in TOKEN.finditer(text) if m.group(1)] + ["END"]
        self.addresses = addresses
        self.at, self.values, self.blocks, self.presets, self.constants, self.steps = 0, {}, {}, {}, {}, []
        self.now = 0
        if self.tokens[0] == "PROGRAM":
            self.at = 2
        while self.peek() == "VAR":
            self.declarations()
        self.reads = []  # by step, the names in it
        while self.peek() not in ("END", "END_PROGRAM"):
            start = self.at
            self.statement()
            self.reads.append({addresses.get(t, t) for t in self.tokens[start:self.at]})

    def peek(self):
        return self.tokens[self.at]

    def take(self, *wanted):
        token = self.tokens[self.at]
        if wanted and token not in wanted:
            raise ValueError(f"{token} where {wanted} is wanted")
        self.at += 1
        return token

    def declarations(self):
        self.take("VAR")
        while self.peek() != "END_VAR":
            name, _, kind = self.take(), self.take(":"), self.take()
            value = None
            if self.peek() == ":=":
                self.take()
                value = self.take()
                if value == "-":
                    value += self.take()
            self.take(";")
            if kind in BLOCKS:
                self.blocks[name] = Block(kind)
                self.presets[name] = 0
            elif kind == "BOOL":
                self.values[name] = value == "TRUE"
            else:
                self.constants[name] = duration(value) if kind == "TIME" else float(value.replace("_", ""))
        self.take("END_VAR")

    def statement(self):
        name = self.take()
        if self.take(":=", "(") == ":=":
            self.steps.append(("set", self.addresses.get(name, name), self.level(0)))
        else:
            pins = {}
            while self.peek() != ")":
                pin, _ = self.take(), self.take(":=")
                if pin == "PT":
                    token = self.take()
                    self.presets[name] = duration(token) if "#" in token else self.constants[token]
                else:
                    pins[pin] = self.level(0)
                if self.peek() == ",":
                    self.take()
            self.take(")")
            off = lambda: False
            first = next((pins[p] for p in ("S1", "SET1", "S", "SET", "CLK", "IN") if p in pins), off)
            second = next((pins[p] for p in ("R", "RESET", "R1", "RESET1") if p in pins), off)
            self.steps.append(("call", name, first, second))
        self.take(";")

    def level(self, depth):
        if depth == len(LOOSEST_FIRST):
            return self.unary()
        left = self.level(depth + 1)
        while self.peek() in LOOSEST_FIRST[depth]:
            apply, right = APPLY[self.take()], self.level(depth + 1)
            left = (lambda f, a, b: lambda: f(a(), b()))(apply, left, right)
        return left

    def unary(self):
        if self.peek() == "NOT":
            self.take()
            inner = self.unary()
            return lambda: not inner()
        token = self.take()
        if token == "(":
            inner = self.level(0)
            self.take(")")
            return inner
        if token in ("TRUE", "FALSE"):
            return lambda: token == "TRUE"
        if token == "-":
            number = -float(self.take())
            return lambda: number
        if token[0].isdigit():
            return lambda: float(token.replace("_", ""))
        if token in self.blocks:
            self.take(".")
            self.take("Q", "Q1")
            return lambda: self.blocks[token].q
        if token in self.constants:
            return lambda: self.constants[token]
        name = self.addresses.get(token, token)
        return lambda: self.values.get(name, False)

    def keep_only(self, names):
        """Drops the steps on which none of these names depends."""
        needed, before = set(names), None
        while before != needed:
            before = set(needed)
            needed = needed.union(*(r for s, r in zip(self.steps, self.reads) if s[1] in needed))
        self.steps = [s for s in self.steps if s[1] in needed]
        self.blocks = {n: b for n, b in self.blocks.items() if n in needed}
        self.values = {n: v for n, v in self.values.items() if n in needed}

    def scan(self, ms):
        self.now += ms
        for step in self.steps:
            if step[0] == "set":
                self.values[step[1]] = step[2]()
            else:
                self.blocks[step[1]].call(self.now, self.presets[step[1]], step[2](), step[3]())

    def follow(self, follows):
        for name, (output, is_inverted) in follows.items():
            self.values[name] = bool(self.values.get(output, False)) != is_inverted

    def snapshot(self):
        return self.now, dict(self.values), {n: (b.q, b.last, b.started) for n, b in self.blocks.items()}

    def restore(self, snapshot):
        self.now, self.values = snapshot[0], dict(snapshot[1])
        for name, (q, last, started) in snapshot[2].items():
            block = self.blocks[name]
            block.q, block.last, block.started = q, last, started

    def memory(self, without):
        kept = tuple(sorted((n, v) for n, v in self.values.items() if n not in without))
        return kept, tuple(b.memory(self.now, self.presets[n]) for n, b in sorted(self.blocks.items()))

    def settle(self, follows, first_ms=0):
        """False if 64 scans don't bring it to rest."""
        for number in range(64):
            before = self.memory(())
            self.follow(follows)
            self.scan(first_ms if number == 0 else 0)
            if self.memory(()) == before:
                return True
        return False

    def next_timer(self):
        left = [self.blocks[n].left(self.now, self.presets[n]) for n in self.blocks]
        return min((ms for ms in left if ms is not None and ms > 0), default=None)
