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
 * Writer of markup that is both well-formed XML and valid HTML. It closes elements in the reverse
 * order of opening and escapes text and attribute values. It makes characters visible that markup
 * must not contain or that change the direction of writing (see {@link VisibleText}).
 *
 * <p>Names of elements and attributes come from code only; data from an instrument or a file goes
 * through {@link #text} or into the value of an attribute. Single-threaded.
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
   * @param target destination; stays open after the end of the markup
   * @return the writer; nothing is written yet
   */
  public static Markup to(Writer target) {
    try {
      return new Markup(target, XMLOutputFactory.newInstance().createXMLStreamWriter(target));
    } catch (XMLStreamException e) {
      throw new MarkupWriteException(e);
    }
  }

  /** One write to the underlying stream. */
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
   * Writes the document type, which makes browsers follow the standard.
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
   * @param attributes names and values, alternating
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
   * @param attributes names and values, alternating
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
   * @param text any text, including external text
   * @return this
   */
  public Markup text(String text) {
    return write(o -> o.writeCharacters(VisibleText.of(text)));
  }

  /**
   * Writes an element that contains only text.
   *
   * @param element its name
   * @param text any text, including external text
   * @param attributes names and values, alternating
   * @return this
   */
  public Markup element(String element, String text, String... attributes) {
    return open(element, attributes).text(text).close();
  }

  /**
   * Inserts the output of another markup writer unchanged. This serves for text that follows a part
   * known only later, such as the table of contents.
   *
   * @param written output of a markup writer that has ended
   * @return this
   */
  public Markup include(CharSequence written) {
    // Empty characters make the writer close the pending start tag.
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
   * Begins a new line in the source, for readability.
   *
   * @return this
   */
  public Markup line() {
    return write(o -> o.writeCharacters("\n"));
  }

  /**
   * Closes the last opened element.
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
   * Ends the markup and flushes buffered output.
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
