// SPDX-License-Identifier: Apache-2.0
package millrace.verification;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import millrace.quantity.NumberText;

/**
 * How many digits of a published source a computation reaches. Every comparison is asserted and the
 * fewest digits of each check are written, as sorted lines {@code origin,source,check,digits}, to
 * {@code target/verification/<test class>.csv}.
 */
public final class Digits {
  /** Where the expected figures come from, by what the file that holds them says of itself. */
  public enum Origin {
    /** Printed by the source, and copied from it or from a public copy. */
    PUBLISHED,
    /** Computed by another program, from data that were copied or are ours. */
    RECOMPUTED,
    /** Figures, data or definition of the source written down from memory, recomputed or not. */
    MEMORY
  }

  /** What a double can hold. */
  private static final double MOST = 15;

  private static final ConcurrentMap<String, Map<String, Double>> ALL = new ConcurrentHashMap<>();

  private final String name;
  private final Origin origin;
  private final String source;

  private Digits(String name, Origin origin, String source) {
    this.name = name;
    this.origin = origin;
    this.source = source;
  }

  /** The digits that a test class reaches of one source, which has no comma in its name. */
  public static Digits of(Class<?> test, Origin origin, String source) {
    return new Digits(test.getSimpleName(), origin, source);
  }

  /** Asserts relative agreement, absolute where zero is expected, and notes the digits. */
  public void agree(String check, double expected, double actual, double tolerance) {
    double off = Math.abs(actual - expected) / (expected == 0 ? 1 : Math.abs(expected));
    assertTrue(
        off <= tolerance,
        () ->
            "%s, %s: found %s, expected %s within %s (relative), off by %s"
                .formatted(source, check, actual, expected, tolerance, off));
    note(check, off == 0 ? MOST : Math.min(MOST, -Math.log10(off)));
  }

  private void note(String check, double digits) {
    Map<String, Double> mine = ALL.computeIfAbsent(name, n -> new TreeMap<>());
    synchronized (mine) {
      mine.merge(origin + "," + source + "," + check.replace(',', ';'), digits, Math::min);
      write(mine);
    }
  }

  private void write(Map<String, Double> mine) {
    List<String> lines =
        mine.entrySet().stream()
            .map(e -> e.getKey() + "," + NumberText.fixed(Math.floor(e.getValue() * 10) / 10, 1))
            .toList();
    try {
      Path folder = Files.createDirectories(Path.of("target", "verification"));
      Files.write(folder.resolve(name + ".csv"), lines);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
