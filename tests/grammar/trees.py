"""Says of every line of the named files what the tree-sitter grammar took it for, as examples/boundaries.rs does.

    trees.py LIBRARY FILE...     LIBRARY is the compiled grammar

A tree with an error in it is one more way to disagree: the letter is then `error`.
"""

import ctypes
import json
import re
import sys

from tree_sitter import Language, Parser

BLANKS = "\t\n\v\f\r \x85\xa0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u2028\u2029\u202f\u205f\u3000"


def language(path):
    function = ctypes.CDLL(path).tree_sitter_levare
    function.restype = ctypes.c_void_p
    capsule = ctypes.pythonapi.PyCapsule_New
    capsule.restype = ctypes.py_object
    capsule.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_void_p]
    return Language(capsule(function(), b"tree_sitter.Language", None))


def name(node):
    """The place of a name without its quotes and the blanks inside them."""
    text = node.text.decode()
    start, end = node.start_byte + len(text[0].encode()), node.end_byte
    inside = text[1:]
    if inside and inside[-1] in '"“”„«»':
        end -= len(inside[-1].encode())
        inside = inside[:-1]
    start += len(inside.encode()) - len(inside.lstrip(BLANKS).encode())
    end = max(start, end - (len(inside.encode()) - len(inside.rstrip(BLANKS).encode())))
    if not inside.strip(BLANKS):
        start = end = node.start_byte + len(text[0].encode())
    return start, end


def said(tree):
    """For each byte at which a line's words begin: what the line is, with its places."""
    found = {}
    open_nodes = [tree.root_node]
    while open_nodes:
        node = open_nodes.pop()
        if node.type == "ERROR" or node.is_missing:
            found[node.start_byte] = ["error", node.start_byte, node.end_byte]
        elif node.type == "head":
            kind = node.children[0]
            inner = node.child_by_field_name("name")
            # A handbook has no name; what stands in quotes after a remark on its line is nothing.
            named = inner and kind.text.lower() != b"handbook"
            place = name(inner) if named else (kind.end_byte, kind.end_byte)
            found[node.start_byte] = ["card", kind.start_byte, kind.end_byte, *place]
        elif node.type == "field":
            words = node.child_by_field_name("name")
            letter = "field" if words.type == "field_name" else "other"
            found[node.start_byte] = [letter, words.start_byte, words.end_byte]
        elif node.type in ("row", "broken_line"):
            found[node.start_byte] = ["deeper" if node.type == "row" else "broken"]
        elif node.type == "conflict_mark":
            found[node.start_byte] = ["conflict"]
        elif node.type == "remark":
            found.setdefault(node.start_byte, ["remark"])
        open_nodes.extend(node.children)
    return found


def lines(source):
    """Where the text of each line begins and ends, without the blanks around it."""
    start = 3 * len(re.match(rb"(?:\xef\xbb\xbf)*", source)[0]) // 3
    for match in re.finditer(rb"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+$", source):
        text = match[0].decode().rstrip("\r\n")
        begin = match.start()
        if begin == 0:
            text, begin = text.lstrip("\ufeff"), start
        left = text.lstrip(" \t\xa0")
        begin += len(text.encode()) - len(left.encode())
        yield begin, begin + len(left.rstrip(BLANKS).encode())


def main():
    spoken = language(sys.argv[1])
    parser = Parser(spoken)
    for path in sys.argv[2:]:
        with open(path, "rb") as file:
            source = file.read()
        found = said(parser.parse(source))
        out = []
        for start, end in lines(source):
            line = found.get(start, ["blank"] if start == end else ["nothing"])
            out.append(line if len(line) > 1 else [line[0], start, end])
        print(json.dumps({"file": path, "lines": out}))


if __name__ == "__main__":
    main()
