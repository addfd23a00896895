// SPDX-License-Identifier: Apache-2.0
package millrace.report.markup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.StringReader;
import java.io.StringWriter;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.w3c.dom.Element;
import org.xml.sax.InputSource;

/** What comes from outside stays text, whatever it holds. */
class MarkupTest {
  private static Element parsed(String text) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(text)))
        .getDocumentElement();
  }

  private static String cell(String content) {
    StringWriter out = new StringWriter();
    Markup markup = Markup.to(out);
    markup.open("td", "title", content).text(content).close().end();
    return out.toString();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "<script>alert(1)</script>",
        "\" onload=\"alert(1)",
        "' onmouseover='alert(1)",
        "</td></table><img src=x onerror=alert(1)>",
        "]]> <!-- & -->",
        "&lt;b&gt; &amp;amp; &#x3c;",
        "<![CDATA[x]]>",
        "javascript:alert(1)",
        "a\tb\nc"
      })
  void textFromOutsideComesBackAsTheSameText(String attack) throws Exception {
    String written = cell(attack);
    Element td = parsed(written);
    assertEquals(attack, td.getTextContent());
    assertEquals(0, td.getElementsByTagName("*").getLength());
    assertEquals(1, td.getAttributes().getLength());
    assertFalse(written.contains("<script") || written.contains("<img"));
  }

  @Test
  void controlCharactersAreShownInsteadOfWritten() throws Exception {
    assertEquals("a␀b␛c␡", parsed(cell("a\u0000b\u001bc\u007f")).getTextContent());
  }

  @Test
  void charactersThatTurnTheDirectionOfWritingAreNamed() throws Exception {
    assertEquals("x[U+202e]y[U+feff]", parsed(cell("x\u202ey\ufeff")).getTextContent());
  }

  @Test
  void halvesOfSurrogatePairsAreReplacedAndPairsStay() throws Exception {
    assertEquals("\ufffd \ud83d\ude42", parsed(cell("\ud800 \ud83d\ude42")).getTextContent());
  }

  @Test
  void elementsThatStayOpenAreRefused() {
    Markup markup = Markup.to(new StringWriter()).open("p");
    assertThrows(IllegalStateException.class, markup::end);
  }

  @Test
  void closingMoreThanWasOpenedIsRefused() {
    Markup markup = Markup.to(new StringWriter());
    assertThrows(IllegalStateException.class, markup::close);
  }
}
