// SPDX-License-Identifier: Apache-2.0
package millrace.report.chart;

import java.util.Optional;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Judgement;
import millrace.evidence.Result;
import millrace.report.markup.Markup;
import millrace.report.plot.LimitBar;
import millrace.report.words.ResultFigures;

/** Judged results as limit bars one line high. */
public final class ResultLimitBars {
  private ResultLimitBars() {}

  /**
   * Writes the limit bar of a judged result; writes nothing if it was not computed.
   *
   * @param out destination
   * @param r a result with a limit
   */
  public static void write(Markup out, Result r) {
    Judgement j = r.judgement().orElseThrow();
    String unit = r.quantity().unit();
    String spoken = ResultFigures.inWords(r) + "; limit " + ResultFigures.limit(j.limit(), unit);
    r.outcome().accept(new Bar(j)).ifPresent(b -> b.write(out, spoken));
  }

  /** One bar per kind of outcome. */
  private record Bar(Judgement judgement)
      implements ComputationOutcome.Visitor<Optional<LimitBar>> {
    @Override
    public Optional<LimitBar> value(ComputationOutcome.Value v) {
      double low = v.uncertainty().map(ComputationOutcome.Uncertainty::lower).orElse(v.value());
      double high = v.uncertainty().map(ComputationOutcome.Uncertainty::upper).orElse(v.value());
      return bar(v.value(), Math.min(low, v.value()), Math.max(high, v.value()));
    }

    @Override
    public Optional<LimitBar> bound(ComputationOutcome.Bound b) {
      boolean above = b.side() == ComputationOutcome.Side.ABOVE;
      return above
          ? bar(b.value(), b.value(), Double.POSITIVE_INFINITY)
          : bar(b.value(), Double.NEGATIVE_INFINITY, b.value());
    }

    @Override
    public Optional<LimitBar> missing(ComputationOutcome.Missing m) {
      return Optional.empty();
    }

    private Optional<LimitBar> bar(double value, double low, double high) {
      return Optional.of(
          new LimitBar(value, low, high, judgement.limit().lower(), judgement.limit().upper()));
    }
  }
}
