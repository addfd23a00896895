// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.List;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Result;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/**
 * Value, expanded uncertainty, unit and coverage factor of results in separate columns, with as
 * many digits as the uncertainty justifies (JCGM 100:2008, 7.2.6). Blanks of a digit's width follow
 * the last digit, so that the decimal points of a right-aligned column are below each other.
 *
 * @param value the value or bound in figures
 * @param expanded U; empty text if not evaluated
 * @param unit unit with its prefix
 * @param factor k; empty text if U is empty
 */
public record FigureColumns(String value, String expanded, String unit, String factor) {
  /** A blank as wide as a digit, and one as wide as a point (The Unicode Standard, 6.2). */
  private static final char DIGIT = '\u2007';

  private static final char POINT = '\u2008';

  /**
   * The columns of results with a known value or bound.
   *
   * @param results all results of one column, at least
   * @return columns in the same order; empty texts for a result that was not computed
   */
  public static List<FigureColumns> of(List<Result> results) {
    List<FigureColumns> plain = results.stream().map(FigureColumns::of).toList();
    int most = plain.stream().mapToInt(f -> behind(f.value)).max().orElse(0);
    int mostU = plain.stream().mapToInt(f -> behind(f.expanded)).max().orElse(0);
    return plain.stream()
        .map(
            f ->
                new FigureColumns(
                    padded(f.value, most), padded(f.expanded, mostU), f.unit, f.factor))
        .toList();
  }

  private static FigureColumns of(Result r) {
    if (r.outcome() instanceof ComputationOutcome.Value v && v.uncertainty().isPresent()) {
      ComputationOutcome.Uncertainty u = v.uncertainty().get();
      if (u.expanded() > 0) {
        String unit = r.quantity().unit();
        QuantityText.Scale scale =
            ResultFigures.scale(Math.max(Math.abs(v.value()), u.expanded()), unit);
        return new FigureColumns(
            QuantityText.rounded(v.value() / scale.size(), u.expanded() / scale.size()),
            QuantityText.rounded(u.expanded() / scale.size(), u.expanded() / scale.size()),
            scale.symbol(),
            NumberText.fixed(u.coverageFactor(), 2));
      }
    }
    return new FigureColumns(ResultFigures.stated(r).orElse(""), "", "", "");
  }

  /** The number of characters from the decimal point on. */
  private static int behind(String figures) {
    int point = figures.indexOf('.');
    boolean number = figures.matches("[-\u22120-9.]*");
    return point < 0 || !number ? 0 : figures.length() - point;
  }

  private static String padded(String figures, int most) {
    if (figures.isEmpty()) {
      return figures;
    }
    int there = behind(figures);
    StringBuilder out = new StringBuilder(figures);
    for (int i = there; i < most; i++) {
      out.append(i == 0 ? POINT : DIGIT);
    }
    return out.toString();
  }
}
