// SPDX-License-Identifier: Apache-2.0
package millrace.sim.fault;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import millrace.sim.truth.SimValueChecks;
import millrace.time.Seeds;

/**
 * The faults of a simulated bench, listed or drawn.
 *
 * @param faults each with its time; may be empty
 */
public record FaultPlan(List<SimFault> faults) {
  /** A plan without faults. */
  public static final FaultPlan NONE = new FaultPlan(List.of());

  /** Copies the list. */
  public FaultPlan {
    faults = List.copyOf(faults);
  }

  /**
   * Makes a plan of listed faults.
   *
   * @param faults the faults
   * @return the plan
   */
  public static FaultPlan of(SimFault... faults) {
    return new FaultPlan(List.of(faults));
  }

  /**
   * The settings of a draw.
   *
   * @param count the number of faults, 0 or more
   * @param within the end of the period, on the bench's clock
   * @param kinds the kinds; not empty
   */
  public record Lot(int count, Duration within, List<SimFault.Kind> kinds) {
    /** Copies the list and checks the components. */
    public Lot {
      kinds = List.copyOf(kinds);
      SimValueChecks.notEmpty("kinds of fault", kinds.size());
      SimValueChecks.from0("count of faults", count);
    }

    /**
     * Faults of every kind.
     *
     * @param count the number of faults
     * @param within the end of the period, on the bench's clock
     * @return the lot
     */
    public static Lot ofAll(int count, Duration within) {
      return new Lot(count, within, List.of(SimFault.Kind.values()));
    }
  }

  /**
   * Draws faults at random times on random instruments.
   *
   * @param lot the settings of the draw
   * @param seeds the seeds
   * @return the plan
   */
  public static FaultPlan drawn(Lot lot, Seeds seeds) {
    SplittableRandom random = seeds.stream("faults");
    List<SimFault> faults = new ArrayList<>();
    for (int i = 0; i < lot.count(); i++) {
      SimFault.Kind kind = lot.kinds().get(random.nextInt(lot.kinds().size()));
      List<String> targets = kind.targets().isEmpty() ? SimInstrumentNames.NAMES : kind.targets();
      Duration at = Duration.ofMillis((long) (random.nextDouble() * lot.within().toMillis()));
      Duration lasting = Duration.ofMillis((long) (random.nextDouble() * 3_600_000));
      String target = targets.get(random.nextInt(targets.size()));
      int times = 1 + random.nextInt(2);
      faults.add(
          new SimFault(kind, target, new SimFault.AtTime(at), times, kind.usualSize(), lasting));
    }
    return new FaultPlan(faults);
  }

  /**
   * This plan followed by another.
   *
   * @param other the other
   * @return both
   */
  public FaultPlan and(FaultPlan other) {
    return new FaultPlan(Stream.concat(faults.stream(), other.faults.stream()).toList());
  }
}
