// SPDX-License-Identifier: Apache-2.0
package millrace.report.guide;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import millrace.report.markup.Markup;
import millrace.report.plot.TextWidths;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/** The guide as a page: whole, alone, and what it computes on it is right. */
class GuideTest {
  private static final Path TEXT = Path.of("src/site/guide/guide.md");
  private static final Path DRAWINGS = Path.of("src/site/guide/drawings");

  @TempDir private Path folder;

  private String page() throws IOException {
    Path file = folder.resolve("guide.html");
    Guide.write(file);
    return Files.readString(file);
  }

  private static Document parsed(Path file) throws Exception {
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    return factory.newDocumentBuilder().parse(file.toFile());
  }

  private static Set<String> all(String pattern, String text) {
    Set<String> found = new TreeSet<>();
    Pattern.compile(pattern).matcher(text).results().map(r -> r.group(1)).forEach(found::add);
    return found;
  }

  static List<Path> drawings() throws IOException {
    try (Stream<Path> files = Files.list(DRAWINGS)) {
      return notEmpty(files.sorted().toList());
    }
  }

  @ParameterizedTest
  @MethodSource("drawings")
  void aDrawingIsMadeFromItsLines(Path file) throws Exception {
    StringWriter text = new StringWriter();
    Markup out = Markup.to(text);
    DrawingFile.read(file.toString(), Files.readString(file)).write(out, "d");
    out.end();
    Path svg = Files.writeString(folder.resolve("d.svg"), text.toString());
    Element drawing = parsed(svg).getDocumentElement();
    assertEquals("svg", drawing.getTagName());
    List<String> lines = Files.readAllLines(file);
    assertEquals("title " + words(drawing, "title"), lines.get(0));
    assertEquals("words " + words(drawing, "desc"), lines.get(1));
    assertTrue(lines.get(1).length() > 100, "a drawing in words says what is seen");
    assertEquals(360, Double.parseDouble(drawing.getAttribute("width")));
    inside(drawing);
  }

  /** A word that stands outside of the drawing is cut off. */
  private static void inside(Element drawing) {
    double high = Double.parseDouble(drawing.getAttribute("height"));
    NodeList texts = drawing.getElementsByTagName("text");
    assertTrue(texts.getLength() > 2);
    for (int i = 0; i < texts.getLength(); i++) {
      Element text = (Element) texts.item(i);
      double x = Double.parseDouble(text.getAttribute("x"));
      double y = Double.parseDouble(text.getAttribute("y"));
      double wide = TextWidths.width(text.getTextContent(), 11.5) * 0.95;
      double left = text.getAttribute("text-anchor").equals("middle") ? x - wide / 2 : x;
      String words = text.getTextContent();
      assertTrue(y > 8 && y < high - 2, words + " at height " + y + " of " + high);
      assertTrue(left > 0 && left + wide < 360, words + " from " + left + " to " + (left + wide));
    }
  }

  private static String words(Element drawing, String name) {
    return drawing.getElementsByTagName(name).item(0).getTextContent();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "high 3 | x.txt:1: expected 'title ...'",
        "title a;words b | x.txt:3: expected 'high ...'",
        "title a;words b;high x | x.txt:3: 'x' is no number",
        "title a;words b;high 3;lead 1,2 3 | x.txt:4: expected a place such as '3,4'",
        "title a;words b;high 3;tube 1,2 | x.txt:4: 'tube' is no part of a drawing",
        "title a;words b;high 3;cell 1,2 up | x.txt:4: expected 'lies' or 'stands'",
        "title a;words b;high 3;arrow 1,2 lies | x.txt:4: expected right, left, up or down"
      })
  void aLineThatIsNoPartIsNamed(String lines, String message) {
    IllegalArgumentException fault =
        assertThrows(
            IllegalArgumentException.class,
            () -> DrawingFile.read("x.txt", lines.replace(';', '\n')));
    assertEquals(message, fault.getMessage());
  }

  @Test
  void everyDrawingStandsOnThePageWithAWordBelow() throws Exception {
    Set<String> shown = all("!\\[[^\\]]{10,}\\]\\(drawings/([^)]+)\\)", Files.readString(TEXT));
    Set<String> there = new TreeSet<>();
    drawings().forEach(d -> there.add(d.getFileName().toString()));
    assertEquals(there, shown);
    assertEquals(there.size(), page().split("<svg ", -1).length - 1);
  }

  @Test
  void thePageIsWellFormedAndEveryLinkOfItLeadsSomewhereOnIt() throws Exception {
    String page = page();
    parsed(folder.resolve("guide.html"));
    List<String> ids =
        Pattern.compile(" id=\"([^\"]+)\"")
            .matcher(page)
            .results()
            .map((MatchResult r) -> r.group(1))
            .toList();
    assertEquals(new HashSet<>(ids).size(), ids.size(), "an id stands twice");
    Set<String> links = all(" href=\"([^\"]+)\"", page);
    assertTrue(links.size() > 10, links.toString());
    links.removeIf(l -> l.startsWith("#") && ids.contains(l.substring(1)));
    assertEquals(Set.of(), links);
  }

  /** It is read on a bench computer that has no network, under the strictest rules for content. */
  @Test
  void thePageNeedsNothingElse() throws IOException {
    String page = page();
    for (String other : List.of("<script", " src=", "url(", "@import", " style=", "http:")) {
      assertFalse(page.contains(other), other);
    }
    assertFalse(page.contains("https:"));
  }

  /** What it says first is where to look, then what can hurt. */
  @Test
  void theAnswerAndTheCautionStandFirst() throws IOException {
    String page = page();
    int table = page.indexOf("you want to know");
    int caution = page.indexOf("Caution.");
    assertTrue(page.indexOf("Find your question") < table && table < caution);
    assertTrue(caution < page.indexOf("<nav"));
    assertTrue(page.contains("Millrace is not a\nsafety device"));
    assertTrue(page.contains("Local codes and licensed practice come first"));
  }

  /** Figures of the text by Ohm's law and the like, computed here from what stands beside them. */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "At 8 V an input of 10 Mohm takes 0.8 uA: 800 ppm of 1 mA | 8 | 10e6 | 0.8e-6",
        "An input of 10 Gohm takes 0.8 nA: 0.8 ppm of 1 mA, but 800 ppm of 1 uA | 8 | 10e9 |"
            + " 0.8e-9",
        "At 9 V and 100 Gohm that is 90 pA: 90 ppm of 1 uA | 9 | 100e9 | 90e-12"
      })
  void currentsInTheTextAreRight(String words, double volt, double ohm, double ampere)
      throws IOException {
    assertTrue(sentences().contains(words), words);
    assertEquals(ampere, volt / ohm, 1e-6 * ampere);
  }

  @Test
  void otherFiguresInTheTextAreRight() throws IOException {
    String text = sentences();
    assertTrue(text.contains("0.4 ohm at 10 mA is 4 mV"));
    assertEquals(4e-3, 0.4 * 10e-3, 1e-12);
    assertTrue(text.contains("1 mA in 100 ohm is 0.1 mW, 10 mA is 10 mW"));
    assertEquals(0.1e-3, 1e-3 * 1e-3 * 100, 1e-12);
    assertTrue(
        text.contains("0.1 ohm in series with what you want to measure. Of 10 ohm that is 1 %"));
    assertTrue(text.contains("At 1 mA in 100 ohm there are 100 mV, so 1 uV is 10 ppm"));
    assertEquals(10e-6, 1e-6 / (1e-3 * 100), 1e-12);
    assertTrue(text.contains("220 pF at 8 Mohm have a time constant of 1.8 ms"));
    assertEquals(1.8e-3, 220e-12 * 8e6, 0.05e-3);
    assertTrue(text.contains("that is 120 + 2 x 30 = 180 ppm"));
    assertTrue(text.contains("35.5 + 2 x 8.88 = 53.3 ppm"));
    assertEquals(53.3, 35.5 + 2 * 8.88, 0.05);
    assertTrue(text.contains("60 ppm of 1 mA and 12 ppm of 2 mA are limits of 84 nA"));
    assertTrue(text.contains("divided by the root of 3 that is 48 nA"));
    assertEquals(48e-9, (60e-6 * 1e-3 + 12e-6 * 2e-3) / Math.sqrt(3), 0.6e-9);
  }

  private static String sentences() throws IOException {
    return Files.readString(TEXT).replaceAll("\\s+", " ");
  }
}
