// SPDX-License-Identifier: Apache-2.0
package millrace.report.paper;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Style sheet of a page in the CSS of the PDF library, which supports CSS 2.1 and the margin boxes
 * of paged media. Custom properties are replaced by their values, all font families by the embedded
 * one, and grids by other rules.
 */
final class PaperStyle {
  /** The only embedded font family. */
  static final String FAMILY = "DejaVu Sans Condensed";

  private static final String END = "</style>";
  private static final Pattern PROPERTY = Pattern.compile("(--[a-z]+): ([^;]+);");
  private static final Pattern FAMILIES =
      Pattern.compile(
          "'Liberation Sans[^']*'|'DejaVu Sans[^']*'|'Arial Narrow'|Arial|Helvetica|Consolas"
              + "|sans-serif|monospace");

  /** What the library knows by its older name, which begins with the word page. */
  private static final Pattern BREAKS = Pattern.compile("(?<![-\\w])break-(inside|before|after):");

  private static final Pattern HEADING = Pattern.compile("<h2([^>]*)>(.*?)</h2>");
  private static final Pattern TAGS = Pattern.compile("<[^>]*>");

  private PaperStyle() {}

  /** The page with the changed style and with its headings as bookmarks; its text is unchanged. */
  static String applied(String page) {
    int end = page.indexOf(END);
    String style = plain(page.substring(0, end)) + resource("paper.css");
    String rest = page.substring(end + END.length());
    StringBuilder bookmarks = new StringBuilder("<bookmarks>");
    StringBuilder body = new StringBuilder();
    Matcher heading = HEADING.matcher(rest.replaceAll("font-family=\"[^\"]*\"", family()));
    for (int n = 1; heading.find(); n++) {
      String name = "heading" + n;
      String words = TAGS.matcher(heading.group(2)).replaceAll("").replace("\"", "&quot;");
      bookmarks.append("<bookmark name=\"%s\" href=\"#%s\"/>".formatted(words, name));
      heading.appendReplacement(
          body,
          Matcher.quoteReplacement(
              "<h2%s><span id=\"%s\">%s</span></h2>"
                  .formatted(heading.group(1), name, heading.group(2))));
    }
    heading.appendTail(body);
    return style + END + bookmarks.append("</bookmarks>") + opened(body.toString());
  }

  /** Opens folded parts, since paper cannot unfold them. */
  private static String opened(String body) {
    return body.replace("<details>", "<div>")
        .replace("</details>", "</div>")
        .replaceAll("<summary>[^<]*</summary>", "")
        // XML needs a namespace for a drawing, HTML does not.
        .replace("<svg ", "<svg xmlns=\"http://www.w3.org/2000/svg\" ");
  }

  private static String family() {
    return "font-family=\"" + FAMILY + "\"";
  }

  private static String plain(String style) {
    Map<String, String> properties = new LinkedHashMap<>();
    Matcher m = PROPERTY.matcher(style);
    while (m.find()) {
      properties.putIfAbsent(m.group(1), m.group(2));
    }
    String plain = style;
    for (Map.Entry<String, String> p : properties.entrySet()) {
      plain = plain.replace("var(" + p.getKey() + ")", p.getValue());
    }
    String broken = BREAKS.matcher(plain).replaceAll("page-break-$1:");
    return FAMILIES.matcher(broken).replaceAll("'" + FAMILY + "'");
  }

  static InputStream open(String name) {
    return Objects.requireNonNull(PaperStyle.class.getResourceAsStream(name), name);
  }

  private static String resource(String name) {
    try (InputStream in = open(name)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
