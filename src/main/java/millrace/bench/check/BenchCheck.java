// SPDX-License-Identifier: Apache-2.0
package millrace.bench.check;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.bench.Bench;
import millrace.bench.role.BenchOperator;

/**
 * The condition of the instruments of a bench and of the sensors of its interlocks; it sets
 * nothing.
 *
 * @param instruments how each instrument is, in the order of the bench file
 * @param interlocks what the sensors read; empty where an instrument does not speak
 */
public record BenchCheck(List<InstrumentCheck> instruments, List<BenchCheckFinding> interlocks) {
  /** Copies the lists. */
  public BenchCheck {
    instruments = List.copyOf(instruments);
    interlocks = List.copyOf(interlocks);
  }

  /**
   * Speaks to every instrument, and reads the sensors where all of them speak.
   *
   * @param bench the open bench, which this process holds
   * @param day the day that certificates must reach
   * @param person the person who is asked about instruments set by hand; empty if nobody is there
   * @return what was found; never throws for an instrument that is in trouble
   */
  public static BenchCheck of(Bench bench, LocalDate day, Optional<BenchOperator> person) {
    List<InstrumentCheck> instruments =
        bench.file().instruments().values().stream()
            .map(entry -> InstrumentCheck.of(bench, entry, day, person))
            .toList();
    return new BenchCheck(
        instruments, speaking(instruments) ? InterlockCheck.of(bench) : List.of());
  }

  /**
   * Whether every instrument answers that has a link.
   *
   * @return false if one does not answer, or another one does
   */
  public boolean speaking() {
    return speaking(instruments);
  }

  private static boolean speaking(List<InstrumentCheck> instruments) {
    return instruments.stream()
        .allMatch(i -> i.trouble().isEmpty() || i.state() == BenchCheckFinding.State.CAUTION);
  }

  /**
   * All findings.
   *
   * @return instruments first
   */
  public List<BenchCheckFinding> findings() {
    return Stream.concat(instruments.stream().map(InstrumentCheck::finding), interlocks.stream())
        .toList();
  }
}
