// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import millrace.evidence.RunOrigin;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** A report is one whole file that says everything in words and lets nothing in from outside. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ReportTest {
  private static final String ATTACK = "<script>alert('x')</script>\" onload=\"y\u001b[2J";

  private String simulated = "";
  private String real = "";
  private String digest = "";

  @BeforeAll
  void writeReports(@TempDir Path folder) throws Exception {
    simulated = written(RunOrigin.SIMULATED, folder.resolve("simulated"));
    real = written(RunOrigin.BENCH, folder.resolve("real"));
  }

  private String written(RunOrigin origin, Path where) throws Exception {
    Files.createDirectories(where);
    try (SampleRun run = new SampleRun(where, origin, "BX5-0007 " + ATTACK)) {
      run.instrument("dmm1", "MAKER,7,1 " + ATTACK, LocalDate.of(2026, 11, 1));
      run.incident("The meter said '" + ATTACK + "'.");
      run.measure();
      run.end();
      Path file = where.resolve("report.html");
      Report.write(file, run.assessed(), run.reader());
      digest = run.reader().summary().digest().orElseThrow();
      return Files.readString(file);
    }
  }

  private static Document parsed(String html) throws Exception {
    DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
    return factory.newDocumentBuilder().parse(new InputSource(new StringReader(html)));
  }

  private static List<Element> all(Document page, String name) {
    NodeList nodes = page.getElementsByTagName(name);
    List<Element> elements = new ArrayList<>();
    for (int i = 0; i < nodes.getLength(); i++) {
      elements.add((Element) nodes.item(i));
    }
    return elements;
  }

  @Test
  void theOutcomeComesFirst() throws Exception {
    List<Element> headings = all(parsed(real), "h2");
    assertEquals("Outcome: Fail", headings.get(0).getTextContent());
    assertEquals("Caution", headings.get(1).getTextContent());
    assertEquals("Contents", headings.get(2).getTextContent());
    assertEquals("Limits at a glance", headings.get(3).getTextContent());
    assertEquals("Limit by limit, the worst first", headings.get(4).getTextContent());
  }

  @Test
  void everySectionIsThere() throws Exception {
    String headings =
        String.join("|", all(parsed(real), "h2").stream().map(Element::getTextContent).toList());
    for (String section :
        List.of(
            "Against the load",
            "Against temperature",
            "At any condition",
            "Measured against what the parts predict",
            "Soak at each temperature",
            "All results",
            "Uncertainty budgets",
            "Points",
            "Methods of Millrace",
            "Conditions",
            "Instruments",
            "Incidents",
            "Digest and files")) {
      assertTrue(headings.contains(section), () -> section + " in " + headings);
    }
  }

  @Test
  void theDigestOfTheLogbookIsPrinted() {
    assertTrue(real.contains(digest) || simulated.contains(digest));
  }

  @Test
  void textOfInstrumentsAndFilesStaysText() throws Exception {
    Document page = parsed(real);
    assertEquals(0, all(page, "script").size());
    assertFalse(real.contains("<script"));
    assertFalse(real.contains("\u001b"));
    String shown = ATTACK.replace("\u001b", "\u241b");
    assertEquals(
        "Test report of unit BX5-0007 " + shown + ", run 1",
        all(page, "h1").get(0).getTextContent());
    assertTrue(page.getDocumentElement().getTextContent().contains("MAKER,7,1 " + shown));
    assertTrue(page.getDocumentElement().getTextContent().contains("overnight <characterization>"));
  }

  @Test
  void noElementCarriesAHandlerOrAReferenceOutward() throws Exception {
    for (Element e : notEmpty(all(parsed(real), "*"))) {
      for (int i = 0; i < e.getAttributes().getLength(); i++) {
        String name = e.getAttributes().item(i).getNodeName();
        assertFalse(name.startsWith("on"), () -> name + " at " + e.getTagName());
        assertFalse(List.of("src", "xlink:href", "action").contains(name), name);
        assertTrue(!name.equals("href") || e.getAttribute(name).startsWith("#"), name);
      }
    }
    assertFalse(Pattern.compile("https?:|//[a-z]|@import|url\\(").matcher(real).find());
  }

  /** A link that leads nowhere is worse than none. */
  @Test
  void everyLinkLeadsToOnePlace() throws Exception {
    Document page = parsed(real);
    List<String> places =
        all(page, "*").stream()
            .filter(e -> e.hasAttribute("id"))
            .map(e -> e.getAttribute("id"))
            .toList();
    assertEquals(places.size(), Set.copyOf(places).size());
    List<String> links =
        all(page, "a").stream().map(e -> e.getAttribute("href").substring(1)).toList();
    assertTrue(links.size() > 50, () -> links.size() + " links");
    assertEquals(List.of(), links.stream().filter(l -> !places.contains(l)).toList());
  }

  @Test
  void theContentsListEverySection() throws Exception {
    Document page = parsed(real);
    List<String> sections =
        all(page, "section").stream()
            .map(s -> s.getElementsByTagName("h2").item(0).getTextContent())
            .filter(h -> !h.startsWith("Outcome"))
            .toList();
    Element contents = all(page, "nav").get(0);
    List<String> listed =
        all(page, "a").stream()
            .filter(a -> a.getParentNode().getParentNode().getParentNode() == contents)
            .map(Element::getTextContent)
            .toList();
    assertEquals(sections, listed);
  }

  /**
   * Every result with a budget has its number at its budget, also where it follows from another.
   */
  @Test
  void everyResultLeadsToItsBudgetAndBack() throws Exception {
    Document page = parsed(real);
    List<String> links = all(page, "a").stream().map(e -> e.getAttribute("href")).toList();
    long results = links.stream().distinct().filter(l -> l.matches("#b\\d+")).count();
    assertTrue(results > 40, () -> results + " budgets");
    for (String link : notEmpty(links)) {
      if (link.matches("#b\\d+")) {
        assertTrue(links.contains(link.replace("#b", "#r")), link);
      }
    }
  }

  /** A section that a result cites is carried word by word. */
  @Test
  void theMethodsThatResultsCiteStandAtTheEnd() throws Exception {
    Element methods =
        all(parsed(real), "section").stream()
            .filter(s -> s.getAttribute("id").equals("methods"))
            .findFirst()
            .orElseThrow();
    String text = methods.getTextContent();
    String page = Files.readString(Path.of("src/site/methods.md"));
    assertTrue(page.contains("### 5.2 Temperature coefficient"));
    assertTrue(text.contains("5.2 Temperature coefficient"), text);
    assertFalse(text.contains("4.2 Over the set value"), "nothing cites it");
    assertFalse(text.contains("###") || text.contains("**") || text.contains("`"), text);
  }

  /** Small plots share a scale where they are held against one another, and say what they hold. */
  @Test
  void everySmallPlotOfARangeSaysHowManyPointsItHas() throws Exception {
    int plots = 0;
    for (Element figure : notEmpty(all(parsed(real), "figure"))) {
      String name = ((Element) figure.getElementsByTagName("div").item(0)).getAttribute("id");
      if (name.matches("(plateau|linearity|temperature|response)-\\d+")) {
        plots++;
        String caption = figure.getElementsByTagName("figcaption").item(0).getTextContent();
        assertTrue(caption.matches("n = \\d+ .*"), caption);
      }
    }
    assertEquals(8, plots);
  }

  /** No axis is labelled with more digits than a person reads. */
  @Test
  void noTickIsLongerThanAPersonReads() throws Exception {
    for (Element text : notEmpty(all(parsed(real), "text"))) {
      String words = text.getTextContent();
      assertFalse(words.matches("\u2212?[0-9]+\\.[0-9]{5,}"), words);
    }
  }

  @Test
  void theCautionStandsOnTheFirstPage() {
    int caution = real.indexOf("class=\"caution\"");
    assertTrue(caution > 0 && caution < real.indexOf("id=\"glance\""));
    assertTrue(real.indexOf("above 60 V DC") > caution);
  }

  /** What stands in quotes of the style sheet comes from outside, too. */
  @Test
  void theFootOfEveryPageNamesUnitAndRunAndLetsNothingOut() {
    String before = "@bottom-left { content: '";
    int from = real.indexOf(before) + before.length();
    String foot = real.substring(from, real.indexOf('\'', from));
    assertTrue(foot.matches("unit BX5-0007 \\\\3c script\\\\3e [A-Za-z0-9 \\\\-]+ run 1"), foot);
  }

  @Test
  void aSimulatedRunSaysSoOnEveryPlotAndOnceOnThePage() throws Exception {
    Document page = parsed(simulated);
    List<Element> plots =
        all(page, "svg").stream().filter(s -> s.hasAttribute("aria-labelledby")).toList();
    assertTrue(plots.size() >= 12, () -> plots.size() + " plots");
    for (Element plot : plots) {
      assertTrue(
          plot.getElementsByTagName("title").item(0).getTextContent().startsWith("SIMULATED"));
      assertTrue(stamped(plot), () -> plot.getTextContent());
    }
    assertTrue(all(page, "h1").get(0).getTextContent().endsWith(" SIMULATED"));
    for (Element heading : notEmpty(all(page, "h2"))) {
      assertFalse(heading.getTextContent().contains("SIMULATED"), heading::getTextContent);
    }
    assertTrue(simulated.contains("@top-center"));
    assertTrue(all(page, "title").get(0).getTextContent().startsWith("SIMULATED"));
  }

  private static boolean stamped(Element plot) {
    NodeList texts = plot.getElementsByTagName("text");
    for (int i = 0; i < texts.getLength(); i++) {
      if (texts.item(i).getTextContent().equals("SIMULATED")) {
        return true;
      }
    }
    return false;
  }

  @Test
  void aRealRunDoesNotSayThatItIsSimulated() {
    assertFalse(real.contains("SIMULATED"));
  }

  @Test
  void everyPlotHasATitleAndADescriptionOfItsOwn() throws Exception {
    List<String> ids = new ArrayList<>();
    for (Element plot : notEmpty(all(parsed(real), "svg"))) {
      if (plot.hasAttribute("aria-labelledby")) {
        ids.add(plot.getAttribute("aria-labelledby"));
        assertFalse(plot.getElementsByTagName("desc").item(0).getTextContent().isBlank());
      } else {
        assertFalse(plot.getAttribute("aria-label").isBlank());
      }
    }
    assertEquals(ids.size(), Stream.of(ids.toArray()).distinct().count());
  }

  @Test
  void anOverdueCalibrationIsSaidOnTheFirstPageAndInItsTable() {
    assertTrue(real.contains("The calibration of instrument dmm1 was overdue"));
    assertTrue(real.contains("2026-11-01, OVERDUE at the time of the run"));
  }

  @Test
  void valuesCarryTwoDigitsOfTheirUncertainty() {
    Matcher m = Pattern.compile("\\(\u2212?([0-9.]+) \u00b1 ([0-9.]+)\\) ").matcher(real);
    int found = 0;
    while (m.find()) {
      String digits = m.group(2).replace(".", "").replaceFirst("^0+", "");
      assertTrue(digits.length() >= 2, m::group);
      assertEquals(decimals(m.group(1)), decimals(m.group(2)), m::group);
      found++;
    }
    assertTrue(found > 20, "values found: " + found);
  }

  private static int decimals(String number) {
    int point = number.indexOf('.');
    return point < 0 ? 0 : number.length() - point - 1;
  }

  @Test
  void thereIsNoNumberThatIsNone() {
    assertFalse(Pattern.compile("NaN|Infinity|null|Optional").matcher(real).find());
  }

  @Test
  void theSameRunGivesTheSameFile(@TempDir Path other) throws Exception {
    try (SampleRun run = new SampleRun(other, RunOrigin.BENCH, "U1")) {
      run.measure();
      run.end();
      Report.write(other.resolve("a.html"), run.assessed(), run.reader());
      Report.write(other.resolve("b.html"), run.assessed(), run.reader());
    }
    assertEquals(
        Files.readString(other.resolve("a.html")), Files.readString(other.resolve("b.html")));
  }

  @Test
  void aFolderThatDoesNotExistIsRefusedInWords(@TempDir Path other) {
    try (SampleRun run = new SampleRun(other, RunOrigin.BENCH, "U1")) {
      run.measure();
      run.end();
      Path file = other.resolve("nowhere").resolve("r.html");
      BadInputException refused =
          assertThrows(
              BadInputException.class, () -> Report.write(file, run.assessed(), run.reader()));
      assertEquals(
          file
              + ": it cannot be written there (no such file or folder); expected a folder that"
              + " exists, lets you write, and has room. Name another file with -o.",
          refused.getMessage());
    }
  }
}
