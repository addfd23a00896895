// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.List;
import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * What accuracy decides the limits of a datasheet.
 *
 * @param needs one per part of a statement that matters, by role and range
 * @param idle parts that no limit needs
 * @param limits what a run with such instruments comes to; what is not decided first
 * @param impossible limits that no accuracy of these instruments decides
 * @param own what one's own bench comes to; empty where none was named
 */
public record MetersPlan(
    List<AccuracyNeed> needs,
    List<AccuracyGroup> idle,
    List<LimitForecast> limits,
    List<LimitForecast> impossible,
    Optional<Own> own) {
  /** Copies the lists. */
  public MetersPlan {
    needs = List.copyOf(needs);
    idle = List.copyOf(idle);
    limits = List.copyOf(limits);
    impossible = List.copyOf(impossible);
  }

  /**
   * One's own instruments.
   *
   * @param limits what they decide together, with their certificates
   * @param alone what each leaves open by itself, all others being without error
   */
  public record Own(List<LimitForecast> limits, List<Alone> alone) {
    /** Copies the lists. */
    public Own {
      limits = List.copyOf(limits);
      alone = List.copyOf(alone);
    }
  }

  /**
   * One role of one's own bench.
   *
   * @param role what it does, in words
   * @param instrument its name
   * @param open limits that it does not decide even with all others without error
   */
  public record Alone(String role, String instrument, List<LimitForecast> open) {
    /** Copies the list. */
    public Alone {
      open = List.copyOf(open);
    }
  }
}
