// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.fault.FilePlace;

/**
 * An element of an XML file that knows where it stands. Immutable.
 *
 * @param place where it begins
 * @param name its local name; namespaces only tell dcc from si, whose names do not meet
 * @param kinds the words of its {@code refType}; empty without one
 * @param children the elements in it, in order
 * @param text what stands in it beside elements, blanks around it taken off
 */
record XmlElement(
    FilePlace place, String name, List<String> kinds, List<XmlElement> children, String text) {
  XmlElement {
    kinds = List.copyOf(kinds);
    children = List.copyOf(children);
  }

  /** The elements of that name directly in this one. */
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

  /** The text at the end of a path; empty where nothing stands there. */
  Optional<String> text(String... path) {
    return at(path).map(XmlElement::text).filter(t -> !t.isEmpty());
  }

  /** This element and all in it, from top to bottom. */
  Stream<XmlElement> within() {
    return Stream.concat(Stream.of(this), children.stream().flatMap(XmlElement::within));
  }

  boolean isKind(String kind) {
    return kinds.contains(kind);
  }
}
