// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.util.function.Consumer;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

/**
 * An element of a certificate under construction; names have the prefix {@code dcc} or {@code si}.
 */
final class DccNode {
  static final String DCC = "https://ptb.de/dcc";
  static final String SI = "https://ptb.de/si";

  private static final String XMLNS = "http://www.w3.org/2000/xmlns/";

  /** Characters that XML 1.0 does not allow; a name from an instrument may contain them. */
  private static final String NO_LETTER =
      "[^\\t\\n\\r\\u0020-\\ud7ff\\ue000-\\ufffd\\x{10000}-\\x{10ffff}]";

  private final Element element;

  private DccNode(Element element) {
    this.element = element;
  }

  /** A document with its root. */
  static DccNode root(String name) {
    try {
      DocumentBuilderFactory factory = DocumentBuilderFactory.newDefaultNSInstance();
      Document document = factory.newDocumentBuilder().newDocument();
      Element root = document.createElementNS(DCC, name);
      // Both are set, although writing would add them: the signed document must equal the written
      // one.
      root.setAttributeNS(XMLNS, "xmlns:dcc", DCC);
      root.setAttributeNS(XMLNS, "xmlns:si", SI);
      document.appendChild(root);
      return new DccNode(root);
    } catch (ParserConfigurationException e) {
      throw new IllegalStateException("the JDK makes empty documents", e);
    }
  }

  Document document() {
    return element.getOwnerDocument();
  }

  DccNode attribute(String name, String value) {
    element.setAttribute(name, value);
    return this;
  }

  /** Adds a child and returns it. */
  DccNode add(String name) {
    Element child = document().createElementNS(name.startsWith("si:") ? SI : DCC, name);
    element.appendChild(child);
    return new DccNode(child);
  }

  /** Adds a child with a text; surrounding blanks are not allowed there. Returns this. */
  DccNode add(String name, String text) {
    add(name).element.setTextContent(text.strip().replaceAll(NO_LETTER, "\ufffd"));
    return this;
  }

  /** Adds a child and fills it; returns this. */
  DccNode with(String name, Consumer<DccNode> fill) {
    fill.accept(add(name));
    return this;
  }

  /** Adds a child with words in {@code content}, one element per line; returns this. */
  DccNode words(String name, String... lines) {
    return with(
        name,
        n -> {
          for (String line : lines) {
            n.add("dcc:content", line);
          }
        });
  }

  /** Adds a child with an identification and its issuer; returns this. */
  DccNode identification(String issuer, String value, String name) {
    return with(
        "dcc:identification",
        id -> id.add("dcc:issuer", issuer).add("dcc:value", value).words("dcc:name", name));
  }
}
