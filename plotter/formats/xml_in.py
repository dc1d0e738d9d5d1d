"""XML from outside, walked through once without ever being held: the only home of defusedxml.

defusedxml's parser refuses any DOCTYPE, so that no entity can be declared; its expat does the
reading, and elements are handed over one by one. Nothing is fetched. Bounded are the bytes of a
document, its depth, the length of one tag, the text kept of one element, and how many names of
elements, attributes and namespaces there are (expat keeps each of those to the end). What stands
in a namespace nobody asked for is passed over with all that is in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Protocol
from xml.etree.ElementTree import ParseError

from plotter.errors import FileFault, fault_in_file
from plotter.formats.incoming import Source
from plotter.messages import Message, message

MOST_BYTES = 160_000_000
MOST_DEPTH = 100
MOST_TAG_BYTES = 1_000_000
MOST_TEXT = 20_000
"""Characters kept of one element's text; the rest is not read."""
MOST_NAMES = 10_000
_CHUNK = 1 << 16
_INVALID_TOKEN = 4
_ENDS_EARLY = {3, 5, 20}
"""expat's error codes: no element found, unclosed token, unclosed CDATA section."""


class Elements(Protocol):
    """What a reader of one format does with the elements; ``path`` ends with the element itself.

    ``streamed`` are elements whose text may be of any length: it comes in pieces.
    """

    streamed: frozenset[str]

    def start(self, path: list[str], attributes: dict[str, str]) -> None:
        """An element opens."""

    def piece(self, path: list[str], text: str) -> None:
        """A piece of the text of a streamed element."""

    def end(self, path: list[str], text: str) -> None:
        """An element closes; ``text`` is its own text, without its children's."""


class Walk:
    """One walk through one document; ``line`` is where it has come to."""

    def __init__(self, file: str, root: str, namespaces: frozenset[str]) -> None:
        from defusedxml.ElementTree import DefusedXMLParser

        self._file = file
        self._root = root
        self._namespaces = namespaces
        self._parser = DefusedXMLParser(target=_NoTree(), forbid_dtd=True)
        self._expat: Any = self._parser.parser
        self._names: dict[str, str] = {}
        self._attributes: set[str] = set()
        self._prefixes = 0
        self._path: list[str] = []
        self._text: list[str] = []
        self._length = 0
        self._passed_over = 0

    @property
    def line(self) -> int:
        """The line the parser has come to, from 1."""
        line: int = self._expat.CurrentLineNumber
        return line

    def through(self, stream: Source, elements: Elements) -> None:
        """Read the stream to its end.

        Raises :class:`~plotter.errors.FileFault` for what is no XML, ends early, is over a limit
        or has a DOCTYPE; what was handed over before is then not to be used.
        """
        from defusedxml.common import DefusedXmlException

        self._listen(elements)
        try:
            for chunk in self._chunks(stream):
                self._parser.feed(chunk)
            self._parser.close()
        except DefusedXmlException:
            raise self._fault(message("file.doctype"), self.line) from None
        except ParseError as fault:
            raise self._unreadable(fault) from None
        except (LookupError, ValueError):
            raise self._fault(message("file.encoding")) from None

    def _chunks(self, stream: Source) -> Iterator[bytes]:
        fed = 0
        while chunk := stream.read(_CHUNK):
            self._chunk, self._fed = chunk, fed
            fed += len(chunk)
            if fed > MOST_BYTES:
                raise self._fault(message("file.too-large", most_mb=MOST_BYTES // 1_000_000))
            yield chunk
            if fed - self._expat.CurrentByteIndex > MOST_TAG_BYTES:
                most_mb = MOST_TAG_BYTES // 1_000_000
                raise self._fault(message("file.long-tag", most_mb=most_mb), self.line)

    def _listen(self, elements: Elements) -> None:
        """Give expat what to call; short and flat, because it is called for every tag."""
        names, path, text, seen = self._names, self._path, self._text, self._attributes
        streamed = elements.streamed

        def start(tag: str, attributes: dict[str, str]) -> None:
            name = names.get(tag)
            if name is None:
                name = self._new_name(tag)
            if len(path) >= MOST_DEPTH:
                raise self._fault(message("file.deep", most=MOST_DEPTH), self.line)
            path.append(name)
            text.clear()
            self._length = 0
            if self._passed_over or not name:
                self._passed_over += 1
                return
            if not attributes.keys() <= seen:
                seen.update(attributes)
                self._count(len(seen))
            elements.start(path, attributes)

        def data(piece: str) -> None:
            if self._passed_over:
                return
            if path[-1] in streamed:
                elements.piece(path, piece)
            elif self._length < MOST_TEXT:
                text.append(piece[: MOST_TEXT - self._length])
                self._length += len(piece)

        def end(_tag: str) -> None:
            if self._passed_over:
                self._passed_over -= 1
            else:
                elements.end(path, "".join(text))
            path.pop()
            text.clear()
            self._length = 0

        self._expat.ordered_attributes = False
        self._expat.buffer_text = True
        self._expat.StartElementHandler = start
        self._expat.CharacterDataHandler = data
        self._expat.EndElementHandler = end
        self._expat.StartNamespaceDeclHandler = self._new_prefix

    def _new_name(self, tag: str) -> str:
        """The local name of a tag met for the first time; empty in a namespace not asked for."""
        self._count(len(self._names) + 1)
        namespace, _, local = tag.rpartition("}")
        name = local if namespace in self._namespaces else ""
        if not self._path and name != self._root:
            values = {"format": self._root.upper(), "element": local[:40]}
            what = message("file.first-element", **values)
            if namespace:
                what = message("file.first-element-of", **values, namespace=namespace[:80])
            raise self._fault(what, self.line)
        self._names[tag] = name
        return name

    def _new_prefix(self, *_: object) -> None:
        self._prefixes += 1
        self._count(self._prefixes)

    def _count(self, names: int) -> None:
        if names > MOST_NAMES:
            raise self._fault(message("file.many-names", most=MOST_NAMES), self.line)

    def _fault(self, what: Message, line: int | None = None) -> FileFault:
        return fault_in_file(self._file, what, line)

    def _unreadable(self, fault: ParseError) -> FileFault:
        line = fault.position[0]
        if fault.code in _ENDS_EARLY:
            return self._fault(message("file.ends-early"), line)
        at = self._expat.ErrorByteIndex - self._fed
        broken = self._chunk[at : at + 4] if 0 <= at < len(self._chunk) else b""
        if fault.code == _INVALID_TOKEN and any(byte > 0x7F for byte in broken):
            return self._fault(message("file.other-encoding"), line)
        reason = str(fault).partition(":")[0]
        return self._fault(message("file.not-xml", reason=reason), line)


class _NoTree:
    """Stands where a parser would build a tree."""

    def close(self) -> None:
        """Nothing was built."""
