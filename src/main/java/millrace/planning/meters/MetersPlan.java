// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.List;
import java.util.Optional;
import millrace.planning.LimitForecast;

/**
 * The accuracy that decides the limits of a datasheet.
 *
 * @param needs one per part of a statement that matters, by role and range
 * @param idle parts that no limit needs
 * @param limits the forecast with such instruments; undecided limits first
 * @param impossible limits that these instruments do not decide at any accuracy
 * @param own the result for the user's own bench; empty where none was named
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
   * The user's own instruments.
   *
   * @param limits the forecast with all of them, certificates included
   * @param alone the limits that each leaves open by itself, all others without error
   */
  public record Own(List<LimitForecast> limits, List<Alone> alone) {
    /** Copies the lists. */
    public Own {
      limits = List.copyOf(limits);
      alone = List.copyOf(alone);
    }
  }

  /**
   * One role of the user's own bench.
   *
   * @param role the role in words
   * @param instrument the name of the instrument
   * @param open limits that it leaves open even with all others without error
   */
  public record Alone(String role, String instrument, List<LimitForecast> open) {
    /** Copies the list. */
    public Alone {
      open = List.copyOf(open);
    }
  }
}
