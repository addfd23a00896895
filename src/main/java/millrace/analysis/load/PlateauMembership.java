// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;

/**
 * Which loads belong to the plateau (methods.md 3.2): from a seed at low load the line grows by the
 * next load as long as the current is not below it by more than 3 u_pred + d I_N/20.
 */
final class PlateauMembership {
  static final int LEAST = 3;

  /** A fall of the current that no plateau has. */
  private static final double FALLEN = 0.01;

  private final List<EqualLoadPoints> loads;
  private final LoadSweepRequest question;
  private final boolean known;

  private PlateauMembership(List<EqualLoadPoints> loads, LoadSweepRequest question) {
    this.loads = loads;
    this.question = question;
    this.known = loads.stream().anyMatch(l -> l.uI() > 0);
  }

  /** The members among steady loads in rising order. */
  static List<EqualLoadPoints> of(List<EqualLoadPoints> loads, LoadSweepRequest question) {
    return new PlateauMembership(loads, question).grow();
  }

  private List<EqualLoadPoints> grow() {
    int seed = seed();
    List<EqualLoadPoints> members = new ArrayList<>(loads.subList(0, seed));
    IncrementalLineFit line = new IncrementalLineFit();
    members.forEach(m -> line.add(m.v(), m.i(), weight(m)));
    boolean failedBefore = false;
    for (int i = seed; i < loads.size(); i++) {
      EqualLoadPoints next = loads.get(i);
      if (fits(next, line)) {
        members.add(next);
        line.add(next.v(), next.i(), weight(next));
        failedBefore = false;
      } else if (failedBefore || i == loads.size() - 1) {
        if (members.size() > Math.max(LEAST, seed)) {
          members.remove(members.size() - 1);
        }
        return members;
      } else {
        failedBefore = true;
      }
    }
    return members;
  }

  /**
   * The seed of methods.md 3.2, cut where the current has already fallen far: a unit whose knee
   * comes before half the promised voltage has no plateau there.
   */
  private int seed() {
    double first = Math.abs(loads.get(0).i());
    double fallen = (1 - Math.max(FALLEN, 10 * question.criterion())) * first;
    int held = (int) loads.stream().takeWhile(l -> Math.abs(l.i()) > fallen).count();
    return Math.min(wanted(), Math.max(LEAST, held));
  }

  private int wanted() {
    int half = (loads.size() + 1) / 2;
    int lowest = Math.min(loads.size(), Math.max(LEAST, half));
    if (question.complianceV().isEmpty()) {
      return lowest;
    }
    double most = question.complianceV().getAsDouble() / 2;
    int below = (int) loads.stream().takeWhile(l -> l.magnitudeV() <= most).count();
    return below >= LEAST ? below : lowest;
  }

  private double weight(EqualLoadPoints load) {
    if (load.uI() > 0) {
      return load.uI();
    }
    return known ? leastKnown() : 1;
  }

  private double leastKnown() {
    return loads.stream().mapToDouble(EqualLoadPoints::uI).filter(u -> u > 0).min().orElse(1);
  }

  private boolean fits(EqualLoadPoints load, IncrementalLineFit line) {
    double unit = known ? 1 : line.scatter();
    double u = unit * Math.hypot(weight(load), line.uncertaintyAt(load.v()));
    double slack = 3 * u + question.criterion() * Math.abs(question.nominalA()) / 20;
    double sign = Math.signum(line.at(0)) == 0 ? 1 : Math.signum(line.at(0));
    return sign * (load.i() - line.at(load.v())) >= -slack;
  }
}
