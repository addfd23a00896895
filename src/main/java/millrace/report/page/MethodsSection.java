// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.report.frame.HtmlPageFrame;
import millrace.report.markup.Markup;
import millrace.report.markup.NumberedSections;

/** Sections of the methods page that the results cite, in full. */
final class MethodsSection {
  private static final Pattern CITED =
      Pattern.compile("Methods of Millrace (\\d+\\.\\d+)(?: and (\\d+\\.\\d+))?");

  private MethodsSection() {}

  static void write(ReportContext sheet) {
    Set<String> cited = cited(sheet.assessment().results());
    if (cited.isEmpty()) {
      return;
    }
    NumberedSections page = NumberedSections.of(HtmlPageFrame.resource("methods.md"));
    sheet.folded("Methods of Millrace", "methods", "the sections that results cite");
    sheet.paragraph(
        "The sections of that page which results of this report cite; all of it comes with"
            + " Millrace, as methods.md.");
    sheet.out().line().open("div", "class", "columns");
    page.sections().stream()
        .filter(s -> cited.contains(s.number()))
        .forEach(
            s -> {
              sheet.out().line().element("h3", s.number() + " " + s.heading(), "id", name(s));
              s.write(sheet.out());
            });
    sheet.out().close();
    sheet.endFolded();
  }

  private static String name(NumberedSections.Section section) {
    return name(section.number());
  }

  private static String name(String number) {
    return "methods-" + number;
  }

  private static Set<String> cited(List<Result> results) {
    Set<String> cited = new LinkedHashSet<>();
    results.stream()
        .flatMap(
            r ->
                Stream.of(
                        Stream.of(r.method()),
                        r.notes().stream(),
                        r.model().map(MeasurementModel::equation).stream())
                    .flatMap(s -> s))
        .forEach(
            text ->
                CITED
                    .matcher(text)
                    .results()
                    .forEach(
                        m -> {
                          cited.add(m.group(1));
                          if (m.group(2) != null) {
                            cited.add(m.group(2));
                          }
                        }));
    return cited;
  }

  /** Writes text; citations of the methods page become links to the sections at the end. */
  static void linked(Markup out, String text) {
    Matcher m = CITED.matcher(text);
    int from = 0;
    while (m.find()) {
      out.text(text.substring(from, m.start()))
          .element("a", "Methods of Millrace " + m.group(1), "href", "#" + name(m.group(1)));
      if (m.group(2) != null) {
        out.text(" and ").element("a", m.group(2), "href", "#" + name(m.group(2)));
      }
      from = m.end();
    }
    out.text(text.substring(from));
  }
}
