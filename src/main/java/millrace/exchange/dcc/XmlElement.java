// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.fault.FilePlace;

/**
 * An element of an XML file with its place. Immutable.
 *
 * @param place the place of its beginning
 * @param name its local name; namespaces only distinguish dcc from si, which have no names in
 *     common
 * @param kinds the words of its {@code refType}; empty without one
 * @param children the elements in it, in order
 * @param text its text outside of elements, without surrounding blanks
 */
record XmlElement(
    FilePlace place, String name, List<String> kinds, List<XmlElement> children, String text) {
  XmlElement {
    kinds = List.copyOf(kinds);
    children = List.copyOf(children);
  }

  /** The direct children of that name. */
  List<XmlElement> all(String child) {
    return children.stream().filter(c -> c.name.equals(child)).toList();
  }

  /** The first element at the end of a path of names. */
  Optional<XmlElement> at(String... path) {
    Optional<XmlElement> here = Optional.of(this);
    for (String step : path) {
      here = here.flatMap(e -> e.all(step).stream().findFirst());
    }
    return here;
  }

  /** The text at the end of a path; empty where there is none. */
  Optional<String> text(String... path) {
    return at(path).map(XmlElement::text).filter(t -> !t.isEmpty());
  }

  /** This element and all elements in it, in document order. */
  Stream<XmlElement> within() {
    return Stream.concat(Stream.of(this), children.stream().flatMap(XmlElement::within));
  }

  boolean isKind(String kind) {
    return kinds.contains(kind);
  }
}
