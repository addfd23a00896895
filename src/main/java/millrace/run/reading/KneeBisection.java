// SPDX-License-Identifier: Apache-2.0
package millrace.run.reading;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import millrace.analysis.load.KneeSearch;
import millrace.analysis.load.KneeSearch.Question;
import millrace.analysis.load.KneeSearch.Tried;
import millrace.sequence.Task;
import org.jspecify.annotations.Nullable;

/**
 * Which load to try next on the way to the compliance voltage (methods.md 3.5): three loads on the
 * plateau give the line, then the bracket between the last load inside and the first outside is
 * halved until it is narrower in voltage than asked, and one more load outside is taken.
 * Single-threaded.
 */
public final class KneeBisection {
  private static final List<Double> PLATEAU_SHARES = Task.FindKnee.PLATEAU_SHARES;

  private final double fullOhm;
  private final double criterion;
  private final double nominalA;
  private final double resolutionV;
  private final double[] v = new double[PLATEAU_SHARES.size()];
  private final double[] i = new double[PLATEAU_SHARES.size()];
  private int plateau;
  private double insideOhm;
  private double outsideOhm;
  private final List<Tried> tried = new ArrayList<>();
  private @Nullable Question bracket;
  private boolean extraTaken;
  private double highestOhm;

  /**
   * A search for the knee of one range at one condition.
   *
   * @param fullOhm the load that takes the whole compliance voltage at the nominal current, ohm
   * @param criterion the share of the current that is missing at the knee
   * @param nominalA the nominal current, A, of either sign
   * @param resolutionV how closely the knee is wanted, V
   */
  public KneeBisection(double fullOhm, double criterion, double nominalA, double resolutionV) {
    this.fullOhm = fullOhm;
    this.criterion = criterion;
    this.nominalA = Math.abs(nominalA);
    this.resolutionV = resolutionV;
  }

  /**
   * The load to begin with.
   *
   * @param highestShare the highest load that may be tried, as a share of the full one
   * @return ohm
   */
  public OptionalDouble first(double highestShare) {
    highestOhm = fullOhm * highestShare;
    return OptionalDouble.of(PLATEAU_SHARES.get(0) * fullOhm);
  }

  /** The next load, ohm; empty when the search is over. */
  public OptionalDouble next(double ohm, OptionalDouble currentA, OptionalDouble voltageV) {
    if (currentA.isEmpty()) {
      return OptionalDouble.empty();
    }
    double current = Math.abs(currentA.getAsDouble());
    double volts = Math.abs(voltageV.orElse(current * ohm));
    if (plateau < PLATEAU_SHARES.size()) {
      v[plateau] = volts;
      i[plateau++] = current;
      insideOhm = ohm;
      return OptionalDouble.of(
          plateau < PLATEAU_SHARES.size() ? PLATEAU_SHARES.get(plateau) * fullOhm : highestOhm);
    }
    boolean highest = tried.isEmpty();
    if (extraTaken || (highest && ohm <= insideOhm)) {
      return OptionalDouble.empty();
    }
    if (highest) {
      bracket = new Question(nominalA, criterion, resolutionV, insideOhm, ohm);
      tried.add(new Tried(insideOhm, nominalA));
    }
    boolean outside = current < (1 - criterion) * line(volts);
    tried.add(new Tried(ohm, current / line(volts) * nominalA));
    insideOhm = outside ? insideOhm : ohm;
    outsideOhm = outside ? ohm : outsideOhm;
    return highest && !outside ? OptionalDouble.empty() : halved();
  }

  private OptionalDouble halved() {
    OptionalDouble next = KneeSearch.next(tried, Objects.requireNonNull(bracket));
    if (next.isEmpty()) {
      extraTaken = true;
      return OptionalDouble.of(outsideOhm + 2 * (outsideOhm - insideOhm));
    }
    return next;
  }

  private double line(double volts) {
    int last = PLATEAU_SHARES.size() - 1;
    double slope = (i[last] - i[0]) / (v[last] - v[0]);
    return i[0] + slope * (volts - v[0]);
  }
}
