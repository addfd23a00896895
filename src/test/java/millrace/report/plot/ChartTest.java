// SPDX-License-Identifier: Apache-2.0
package millrace.report.plot;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.StringReader;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import javax.xml.parsers.DocumentBuilderFactory;
import millrace.quantity.Dimension;
import millrace.report.markup.Markup;
import millrace.time.Seeds;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** What a plot shows is inside it, in words, and in the right place. */
class ChartTest {
  private static final Axis VOLTAGE = Axis.of("Terminal voltage", Dimension.VOLTAGE);
  private static final Axis CURRENT = Axis.of("Current", Dimension.CURRENT);
  private static final Pattern NUMBER = Pattern.compile("-?[0-9]+(\\.[0-9]+)?");

  private static Chart chart(List<Mark> marks) {
    return new Chart(
        new Chart.Words("Current of a range", "A line.", Optional.of("SIMULATED")),
        VOLTAGE,
        CURRENT,
        marks,
        Chart.Size.PAGE);
  }

  private static String svg(Chart chart) {
    StringWriter out = new StringWriter();
    Markup markup = Markup.to(out);
    chart.write(markup, "p1");
    markup.end();
    return out.toString();
  }

  private static Element parsed(Chart chart) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new InputSource(new StringReader(svg(chart).strip())))
        .getDocumentElement();
  }

  private static List<Element> all(Element svg, String name) {
    NodeList nodes = svg.getElementsByTagName(name);
    return IntStream.range(0, nodes.getLength()).mapToObj(i -> (Element) nodes.item(i)).toList();
  }

  private static List<String> texts(Element svg) {
    return all(svg, "text").stream().map(Element::getTextContent).toList();
  }

  private static List<double[]> spots(Element svg) {
    return all(svg, "path").stream()
        .filter(p -> p.getAttribute("class").equals("spot"))
        .map(p -> middle(p.getAttribute("d")))
        .toList();
  }

  private static double[] middle(String path) {
    Matcher m = NUMBER.matcher(path);
    double[] sum = new double[2];
    int n = 0;
    while (m.find()) {
      sum[n % 2] += Double.parseDouble(m.group());
      n++;
    }
    return new double[] {sum[0] / (n / 2.0), sum[1] / (n / 2.0)};
  }

  static IntStream seeds() {
    return IntStream.range(0, 100);
  }

  private static List<PointWithErrorBar> anySpots(SplittableRandom chance) {
    List<PointWithErrorBar> spots = new ArrayList<>();
    double size = Math.pow(10, chance.nextDouble(-9, 3));
    for (int i = chance.nextInt(1, 30); i > 0; i--) {
      double half = chance.nextBoolean() ? 0 : size * chance.nextDouble();
      double x = chance.nextDouble(-3, 20);
      spots.add(new PointWithErrorBar(x, size * chance.nextDouble(-1, 2), half / size, half));
    }
    return spots;
  }

  @ParameterizedTest
  @MethodSource("seeds")
  void everythingDrawnStaysInThePicture(int seed) throws Exception {
    SplittableRandom chance = new Seeds(seed).stream("plot");
    List<Mark> marks =
        List.of(
            Mark.Points.of("measured", SeriesStyle.FIRST, anySpots(chance)),
            new Mark.Upright("a voltage", chance.nextDouble(-3, 20), 0.2),
            new Mark.Upright("another voltage", chance.nextDouble(-3, 20), 0),
            new Mark.Level("a limit of the current", chance.nextDouble()));
    Element svg = parsed(chart(marks));
    double width = Double.parseDouble(svg.getAttribute("width"));
    double height = Double.parseDouble(svg.getAttribute("height"));
    for (double[] spot : notEmpty(spots(svg))) {
      assertTrue(spot[0] > 20 && spot[0] < width - 100, () -> "x of " + spot[0]);
      assertTrue(spot[1] > 20 && spot[1] < height - 40, () -> "y of " + spot[1]);
    }
    for (Element text : notEmpty(all(svg, "text"))) {
      assertInside(text, width, height);
    }
  }

  private static void assertInside(Element text, double width, double height) {
    if (!text.hasAttribute("x")) {
      return;
    }
    double x = Double.parseDouble(text.getAttribute("x"));
    double y = Double.parseDouble(text.getAttribute("y"));
    double size = Double.parseDouble(text.getAttribute("font-size"));
    double wide = TextWidths.width(text.getTextContent(), size);
    String anchor = text.getAttribute("text-anchor");
    double from = anchor.equals("end") ? x - wide : anchor.equals("middle") ? x - wide / 2 : x;
    assertTrue(from >= -2 && from + wide <= width + 2, text::getTextContent);
    assertTrue(y > 0 && y < height, text::getTextContent);
  }

  @Test
  void pointsStandWhereTheAxesSay() throws Exception {
    List<PointWithErrorBar> corners =
        List.of(PointWithErrorBar.of(0, 0, 0), PointWithErrorBar.of(10, 1e-3, 0));
    Element svg = parsed(chart(List.of(Mark.Points.of("measured", SeriesStyle.SECOND, corners))));
    double[] low = spots(svg).get(0);
    double[] high = spots(svg).get(1);
    assertEquals(x(svg, "10") - x(svg, "0"), high[0] - low[0], 0.05);
    assertEquals(x(svg, "10"), high[0], 0.05);
    assertEquals(Chart.Size.PAGE.heightPx() / 1.1, low[1] - high[1], 0.05);
  }

  private static double x(Element svg, String label) {
    return all(svg, "text").stream()
        .filter(t -> t.getTextContent().equals(label))
        .filter(t -> t.getAttribute("text-anchor").equals("middle"))
        .mapToDouble(t -> Double.parseDouble(t.getAttribute("x")))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void axesNameWhatTheyShowAndTheUnit() throws Exception {
    List<PointWithErrorBar> spots =
        List.of(PointWithErrorBar.of(0, 1e-4, 1e-9), PointWithErrorBar.of(5, 2e-4, 1e-9));
    List<String> texts =
        texts(parsed(chart(List.of(Mark.Points.of("measured", SeriesStyle.FIRST, spots)))));
    assertTrue(texts.contains("Terminal voltage in V"), texts::toString);
    assertTrue(texts.contains("Current in \u00b5A"), texts::toString);
    assertTrue(texts.contains("measured"), texts::toString);
  }

  @Test
  void theStampIsSeenAndSpoken() throws Exception {
    Element svg = parsed(chart(List.of()));
    assertTrue(texts(svg).contains("SIMULATED"));
    assertEquals("SIMULATED: Current of a range", all(svg, "title").get(0).getTextContent());
    assertEquals("p1-title p1-description", svg.getAttribute("aria-labelledby"));
    assertEquals("A line.", all(svg, "desc").get(0).getTextContent());
  }

  @Test
  void nothingToShowStillGivesAxes() throws Exception {
    assertTrue(texts(parsed(chart(List.of()))).contains("Current in A"));
  }

  @Test
  void constantDataGiveAnAxisAroundThem() throws Exception {
    List<PointWithErrorBar> same =
        List.of(PointWithErrorBar.of(1, 1e-3, 0), PointWithErrorBar.of(2, 1e-3, 0));
    assertEquals(
        2, spots(parsed(chart(List.of(Mark.Points.of("m", SeriesStyle.FIRST, same))))).size());
  }

  @Test
  void aHundredThousandCornersMakeAShortPathWithTheSameEnds() {
    List<PlotLinePoint> corners = new ArrayList<>();
    SplittableRandom chance = new Seeds(5).stream("plot");
    for (int i = 0; i < 100_000; i++) {
      corners.add(new PlotLinePoint(i, i == 50_000 ? 9 : chance.nextDouble()));
    }
    String thin = svg(chart(List.of(new Mark.Curve("noise", SeriesStyle.FIRST, corners))));
    String top =
        svg(
            chart(
                List.of(
                    new Mark.Curve(
                        "n",
                        SeriesStyle.FIRST,
                        List.of(new PlotLinePoint(0, 0), new PlotLinePoint(99_999, 9))))));
    assertTrue(thin.length() < 120_000, () -> "length " + thin.length());
    Matcher peak = Pattern.compile("[ML][0-9.]+ ([0-9.]+)\"").matcher(top);
    assertTrue(peak.find());
    assertTrue(thin.contains(" " + peak.group(1)), "the highest corner is kept");
  }

  @Test
  void labelsOfNeighbouringUprightsStandInDifferentRows() throws Exception {
    Element svg =
        parsed(
            chart(
                List.of(
                    new Mark.Upright("compliance voltage 9.0 V", 9.0, 0),
                    new Mark.Upright("knee voltage 8.9 V", 8.9, 0),
                    new Mark.Upright("start", 0, 0))));
    assertFalse(y(svg, "compliance voltage 9.0 V").equals(y(svg, "knee voltage 8.9 V")));
  }

  private static String y(Element svg, String label) {
    return all(svg, "text").stream()
        .filter(t -> t.getTextContent().equals(label))
        .map(t -> t.getAttribute("y"))
        .findFirst()
        .orElseThrow();
  }

  @ParameterizedTest
  @MethodSource("everyLook")
  void everyLookDiffersInMarkerOrFillAndInDash(SeriesStyle seriesStyle) {
    for (SeriesStyle other : SeriesStyle.values()) {
      if (other != seriesStyle) {
        boolean sameMarker =
            other.shape() == seriesStyle.shape() && filled(other) == filled(seriesStyle);
        assertFalse(sameMarker, "marker of " + seriesStyle + " and " + other);
        assertFalse(
            other.dash().equals(seriesStyle.dash()), "dash of " + seriesStyle + " and " + other);
      }
    }
  }

  static SeriesStyle[] everyLook() {
    return SeriesStyle.values();
  }

  private static boolean filled(SeriesStyle seriesStyle) {
    return !seriesStyle.fill().equals("#ffffff");
  }

  @Test
  void nothingRefersOutside() {
    String svg = svg(chart(List.of(new Mark.Level("a limit", 1))));
    assertFalse(svg.contains("http") || svg.contains("href") || svg.contains("url("));
  }

  /** Names of six causes take two lines each; what is below them moves down. */
  @Test
  void namesThatWouldTouchAreBroken() throws Exception {
    List<String> names =
        List.of("reference error REF", "range resistor R3", "range resistor R5", "a", "b", "c");
    List<PointWithErrorBar> spots =
        IntStream.range(0, names.size()).mapToObj(i -> PointWithErrorBar.of(i, i, 0)).toList();
    Chart named =
        new Chart(
            new Chart.Words("Causes", "How often which.", Optional.empty()),
            Axis.named("Cause", names),
            Axis.counted("Units", ""),
            List.of(Mark.Points.of("units", SeriesStyle.FIRST, spots)),
            Chart.Size.PAGE);
    Element svg = parsed(named);
    List<String> texts = texts(svg);
    assertTrue(
        texts.containsAll(List.of("reference error", "REF", "range resistor", "R3", "a")),
        texts.toString());
    double lowest =
        all(svg, "text").stream()
            .filter(t -> t.hasAttribute("y"))
            .mapToDouble(t -> Double.parseDouble(t.getAttribute("y")))
            .max()
            .orElseThrow();
    Element title =
        all(svg, "text").stream().filter(t -> t.getTextContent().equals("Cause")).findAny().get();
    assertEquals(lowest, Double.parseDouble(title.getAttribute("y")));
    assertTrue(lowest < Double.parseDouble(svg.getAttribute("height")), "below the picture");
  }

  /** One point more than are drawn each by itself; the last lies where the first does. */
  private static double x(Element text) {
    return Double.parseDouble(text.getAttribute("x"));
  }

  @Test
  void ofNamesThatWouldTouchEvenBrokenSomeStand() throws Exception {
    List<String> names =
        IntStream.range(0, 40).mapToObj(i -> "%s.0\u00a0\u00b0C".formatted(i)).toList();
    List<PointWithErrorBar> spots =
        IntStream.range(0, 40).mapToObj(i -> PointWithErrorBar.of(i, i, 0)).toList();
    Chart named =
        new Chart(
            new Chart.Words("Residuals", "Stay beside stay.", Optional.empty()),
            Axis.named("Stays", names),
            Axis.counted("Residual", "ppm"),
            List.of(Mark.Points.of("point", SeriesStyle.FIRST, spots)),
            Chart.Size.PAIR);
    List<Element> texts =
        all(parsed(named), "text").stream()
            .filter(t -> names.contains(t.getTextContent()))
            .toList();
    assertEquals("0.0\u00a0\u00b0C", texts.get(0).getTextContent());
    assertTrue(texts.size() > 4);
    for (int i = 1; i < texts.size(); i++) {
      double apart = x(texts.get(i)) - x(texts.get(i - 1));
      assertTrue(apart > TextWidths.width(texts.get(i).getTextContent(), SvgWriter.SMALL));
    }
  }

  @ParameterizedTest
  @EnumSource(SeriesStyle.class)
  void manyPointsAreTwoPathsAtTheSamePlaces(SeriesStyle style) throws Exception {
    SplittableRandom chance = new Seeds(20).stream("many");
    List<PointWithErrorBar> few = new ArrayList<>();
    for (int i = 0; i < 300; i++) {
      few.add(new PointWithErrorBar(i % 17, chance.nextDouble(), 0.1, 0.1));
    }
    List<PointWithErrorBar> many = new ArrayList<>(few);
    many.add(few.get(0));
    Element each = parsed(chart(List.of(Mark.Points.of("measured", style, few))));
    Element together = parsed(chart(List.of(Mark.Points.of("measured", style, many))));
    List<String> paths =
        all(together, "path").stream()
            .filter(p -> p.getAttribute("class").equals("spots"))
            .map(p -> p.getAttribute("d"))
            .toList();
    assertEquals(1, paths.size());
    String[] marks = paths.get(0).substring(1).split("M");
    List<double[]> expected = spots(each);
    assertEquals(301, marks.length);
    for (int i = 0; i < 300; i++) {
      Matcher m = NUMBER.matcher(marks[i]);
      for (int axis = 0; axis < 2; axis++) {
        assertTrue(m.find());
        assertEquals(expected.get(i)[axis], Double.parseDouble(m.group()), 0.06);
      }
    }
    assertTrue(all(each, "path").size() > 900);
    assertTrue(all(together, "path").size() < 100);
  }
}
