// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import java.io.IOException;
import java.io.Writer;
import java.util.ArrayDeque;
import java.util.Deque;
import javax.xml.stream.XMLOutputFactory;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamWriter;

/**
 * Writes markup that is well-formed XML and valid HTML at once: elements close in the order they
 * were opened, text and attribute values are escaped, and what no markup may hold or what would
 * turn the direction of writing is made visible instead (see {@link VisibleText}).
 *
 * <p>Names of elements and attributes come from code only; whatever comes from an instrument or a
 * file goes through {@link #text} or is the value of an attribute. Single-threaded.
 */
public final class Markup {
  private final Writer target;
  private final XMLStreamWriter out;
  private final Deque<String> open = new ArrayDeque<>();

  private Markup(Writer target, XMLStreamWriter out) {
    this.target = target;
    this.out = out;
  }

  /**
   * Starts writing.
   *
   * @param target where to; stays open when the markup ends
   * @return the writer, nothing written yet
   */
  public static Markup to(Writer target) {
    try {
      return new Markup(target, XMLOutputFactory.newInstance().createXMLStreamWriter(target));
    } catch (XMLStreamException e) {
      throw new MarkupWriteException(e);
    }
  }

  /** One write to the stream below. */
  private interface Writing {
    void to(XMLStreamWriter out) throws XMLStreamException;
  }

  private Markup write(Writing writing) {
    try {
      writing.to(out);
      return this;
    } catch (XMLStreamException e) {
      throw new MarkupWriteException(e);
    }
  }

  /**
   * Writes the line that makes a browser read what follows by the standard.
   *
   * @return this
   */
  public Markup documentType() {
    return write(o -> o.writeDTD("<!DOCTYPE html>\n"));
  }

  /**
   * Opens an element.
   *
   * @param element its name
   * @param attributes names and values in turn
   * @return this
   */
  public Markup open(String element, String... attributes) {
    open.push(element);
    return write(o -> o.writeStartElement(element)).attributes(attributes);
  }

  /**
   * Writes an element that never has content.
   *
   * @param element its name
   * @param attributes names and values in turn
   * @return this
   */
  public Markup lone(String element, String... attributes) {
    return write(o -> o.writeEmptyElement(element)).attributes(attributes);
  }

  private Markup attributes(String... attributes) {
    if (attributes.length % 2 != 0) {
      throw new IllegalArgumentException("attributes are names and values in turn");
    }
    for (int i = 0; i < attributes.length; i += 2) {
      String name = attributes[i];
      String value = VisibleText.of(attributes[i + 1]);
      write(o -> o.writeAttribute(name, value));
    }
    return this;
  }

  /**
   * Writes text, escaped.
   *
   * @param text any text, also from outside
   * @return this
   */
  public Markup text(String text) {
    return write(o -> o.writeCharacters(VisibleText.of(text)));
  }

  /**
   * Writes an element that holds nothing but text.
   *
   * @param element its name
   * @param text any text, also from outside
   * @param attributes names and values in turn
   * @return this
   */
  public Markup element(String element, String text, String... attributes) {
    return open(element, attributes).text(text).close();
  }

  /**
   * Takes in what another markup wrote, as it is: for what stands behind something that is known
   * only when it is written, such as its contents.
   *
   * @param written by a markup that has ended
   * @return this
   */
  public Markup include(CharSequence written) {
    // Empty characters make the writer close the tag that it holds open.
    write(o -> o.writeCharacters(""));
    write(XMLStreamWriter::flush);
    try {
      target.append(written);
      return this;
    } catch (IOException e) {
      throw new MarkupWriteException(e);
    }
  }

  /**
   * Begins a new line in the source, for those who read it.
   *
   * @return this
   */
  public Markup line() {
    return write(o -> o.writeCharacters("\n"));
  }

  /**
   * Closes the element that was opened last.
   *
   * @return this
   * @throws IllegalStateException if none is open
   */
  public Markup close() {
    if (open.isEmpty()) {
      throw new IllegalStateException("no element is open");
    }
    open.pop();
    return write(XMLStreamWriter::writeEndElement);
  }

  /**
   * Ends the markup and hands on what is still held back.
   *
   * @throws IllegalStateException if an element is still open
   */
  public void end() {
    if (!open.isEmpty()) {
      throw new IllegalStateException("element '" + open.peek() + "' is still open");
    }
    write(XMLStreamWriter::flush);
  }
}
