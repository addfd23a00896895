// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.io.IOException;
import java.io.StringReader;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.charset.UnsupportedCharsetException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.stream.XMLInputFactory;
import javax.xml.stream.XMLStreamConstants;
import javax.xml.stream.XMLStreamException;
import javax.xml.stream.XMLStreamReader;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * Reads XML from untrusted sources. Document types are refused, and with them every entity, inside
 * or outside the file: only the file itself is opened, and no entity expands. Size, depth and
 * number of elements are bounded.
 */
final class XmlFile {
  /** The largest file, bytes; certificates may contain a printed page. */
  static final int MOST_BYTES = 20_000_000;

  /** The deepest nesting. */
  static final int MOST_DEPTH = 60;

  /** The most elements. */
  static final int MOST_ELEMENTS = 100_000;

  /** The last position at which the declaration of an encoding may end, bytes. */
  private static final int PROLOG = 200;

  private static final Pattern ENCODING =
      Pattern.compile("^[^<]{0,3}<\\?xml [^>]*encoding=[\"']([A-Za-z][A-Za-z0-9._-]*)[\"']");

  private static final String MEANT = "Check that this is the file you meant.";

  private final String file;
  private final Deque<Begun> open = new ArrayDeque<>();
  private int elements;

  private XmlFile(String file) {
    this.file = file;
  }

  /** An element that has not ended. */
  private record Begun(
      FilePlace place,
      String name,
      List<String> kinds,
      List<XmlElement> children,
      StringBuilder text) {
    XmlElement ended() {
      return new XmlElement(place, name, kinds, children, text.toString().strip());
    }
  }

  /** The bytes of a file, refused if too large. */
  static byte[] bytes(Path path) {
    FilePlace place = FilePlace.of(path.toString());
    try {
      if (Files.exists(path) && !Files.isRegularFile(path)) {
        throw refusal(place, "this is no plain file", "a digital certificate, XML");
      }
      if (Files.size(path) > MOST_BYTES) {
        throw refusal(
            place, "the file has " + Files.size(path) + " bytes", "at most " + MOST_BYTES);
      }
      return Files.readAllBytes(path);
    } catch (IOException e) {
      throw refusal(
          place,
          "it cannot be read (" + FileMessageText.reason(e) + ")",
          "a digital certificate, XML");
    }
  }

  /** Parses bytes; every fault has its place. */
  static XmlElement read(String file, byte[] bytes) {
    try {
      XMLStreamReader reader =
          factory().createXMLStreamReader(new StringReader(decoded(file, bytes)));
      return new XmlFile(file).whole(reader);
    } catch (XMLStreamException e) {
      throw refusal(
          new FilePlace(
              file,
              Math.max(1, e.getLocation() == null ? 1 : e.getLocation().getLineNumber()),
              Math.max(1, e.getLocation() == null ? 1 : e.getLocation().getColumnNumber())),
          "this is no well-formed XML",
          "a digital certificate, XML");
    }
  }

  /** Decoded here: for invalid bytes the JDK's parser prints a line of its own. */
  private static String decoded(String file, byte[] bytes) {
    String head = new String(bytes, 0, Math.min(bytes.length, PROLOG), StandardCharsets.ISO_8859_1);
    Matcher named = ENCODING.matcher(head);
    String encoding = named.find() ? named.group(1) : "UTF-8";
    try {
      String text =
          Charset.forName(encoding).newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      return text.startsWith("\ufeff") ? text.substring(1) : text;
    } catch (CharacterCodingException | UnsupportedCharsetException e) {
      throw refusal(
          FilePlace.of(file),
          "the file is not text in " + encoding,
          "XML in UTF-8, or in the encoding that its first line names");
    }
  }

  private static XMLInputFactory factory() {
    XMLInputFactory factory = XMLInputFactory.newDefaultFactory();
    factory.setProperty(XMLInputFactory.SUPPORT_DTD, false);
    factory.setProperty(XMLInputFactory.IS_SUPPORTING_EXTERNAL_ENTITIES, false);
    factory.setProperty(XMLInputFactory.IS_COALESCING, true);
    return factory;
  }

  private XmlElement whole(XMLStreamReader reader) throws XMLStreamException {
    XmlElement last = null;
    while (reader.hasNext()) {
      switch (reader.next()) {
        case XMLStreamConstants.DTD, XMLStreamConstants.ENTITY_REFERENCE ->
            throw refusal(
                place(reader), "it declares a document type or entities", "XML without them");
        case XMLStreamConstants.START_ELEMENT -> begin(reader);
        case XMLStreamConstants.CHARACTERS, XMLStreamConstants.CDATA -> say(reader);
        case XMLStreamConstants.END_ELEMENT -> last = end();
        default -> {
          // Comments and processing instructions have no meaning for a program.
        }
      }
    }
    if (last == null) {
      throw refusal(FilePlace.of(file), "there is no element in it", "a digital certificate, XML");
    }
    return last;
  }

  private void begin(XMLStreamReader reader) {
    elements++;
    if (open.size() >= MOST_DEPTH) {
      throw refusal(place(reader), "elements are nested too deep", "at most " + MOST_DEPTH);
    }
    if (elements > MOST_ELEMENTS) {
      throw refusal(place(reader), "there are too many elements", "at most " + MOST_ELEMENTS);
    }
    String kinds = reader.getAttributeValue(null, "refType");
    open.push(
        new Begun(
            place(reader),
            reader.getLocalName(),
            kinds == null ? List.of() : List.of(kinds.strip().split("\\s+")),
            new ArrayList<>(),
            new StringBuilder()));
  }

  private void say(XMLStreamReader reader) {
    if (!open.isEmpty()) {
      open.element().text().append(reader.getText());
    }
  }

  private XmlElement end() {
    XmlElement ended = open.pop().ended();
    if (!open.isEmpty()) {
      open.element().children().add(ended);
    }
    return ended;
  }

  private FilePlace place(XMLStreamReader reader) {
    return new FilePlace(
        file,
        Math.max(1, reader.getLocation().getLineNumber()),
        Math.max(1, reader.getLocation().getColumnNumber()));
  }

  private static BadInputException refusal(FilePlace place, String found, String expected) {
    return new BadInputException(new InputFault(place, found, expected, MEANT));
  }
}
