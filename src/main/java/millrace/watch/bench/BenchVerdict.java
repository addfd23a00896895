// SPDX-License-Identifier: Apache-2.0
package millrace.watch.bench;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.bench.BenchFile;
import millrace.bench.check.BenchCheck;
import millrace.bench.check.BenchCheckFinding;
import millrace.bench.check.BenchCheckFinding.State;
import millrace.lock.LockHolder;
import millrace.quantity.NumberText;

/** The state of a bench in one line, with the reason. Stateless. */
final class BenchVerdict {
  private static final int SOON_DAYS = 30;
  private static final String RUN = "requests";

  private BenchVerdict() {}

  /** The number of findings of each kind, the worst first. */
  static String counted(List<BenchCheckFinding> findings) {
    List<String> words = new ArrayList<>();
    for (State state :
        List.of(State.NO_ANSWER, State.ANOTHER, State.BAD, State.CAUTION, State.GOOD)) {
      long n = findings.stream().filter(f -> f.state() == state).count();
      if (n > 0) {
        words.add(n + " " + word(state));
      }
    }
    return String.join(", ", words);
  }

  private static String word(State state) {
    return switch (state) {
      case NO_ANSWER -> "without an answer";
      case ANOTHER -> "another instrument than expected";
      case BAD -> "wrong";
      case CAUTION -> "worth a look";
      case GOOD -> "as it should be";
    };
  }

  /** The user of the bench; an empty answer is no proof, since other machines are not seen. */
  static String held(Set<LockHolder> holders) {
    if (holders.isEmpty()) {
      return "No run of this user has the bench";
    }
    return "In use by "
        + holders.stream()
            .map(h -> h.who() + (h.fact(RUN).isPresent() ? ", which has a run" : ""))
            .collect(Collectors.joining("; "));
  }

  /** Days until a certificate expires; negative: days since it expired. */
  static Optional<Long> daysLeft(BenchFile.Entry entry, LocalDate today) {
    return entry
        .certificate()
        .flatMap(BenchFile.Certificate::due)
        .map(due -> ChronoUnit.DAYS.between(today, due));
  }

  static List<String> certificates(BenchFile file, LocalDate today) {
    List<String> words = new ArrayList<>();
    for (BenchFile.Entry e : file.instruments().values()) {
      Optional<Long> left = daysLeft(e, today);
      if (left.filter(d -> d < 0).isPresent()) {
        words.add("The certificate of '%s' ran out %s ago.".formatted(e.name(), days(-left.get())));
      } else if (left.filter(d -> d <= SOON_DAYS).isPresent()) {
        words.add("The certificate of '%s' ends in %s.".formatted(e.name(), days(left.get())));
      }
    }
    return words;
  }

  static String days(long n) {
    return NumberText.counted(n, "day");
  }

  /** The worst finding, in one line. */
  static String answer(
      BenchFile file, Set<LockHolder> holders, Optional<BenchCheck> last, LocalDate today) {
    String held = held(holders);
    long over =
        file.instruments().values().stream()
            .filter(e -> daysLeft(e, today).filter(d -> d < 0).isPresent())
            .count();
    if (over > 0) {
      held += ", " + NumberText.counted(over, "certificate") + " overdue";
    }
    return held + ", " + last.map(c -> worst(c.findings())).orElse("not checked from here");
  }

  private static String worst(List<BenchCheckFinding> findings) {
    return findings.stream().allMatch(f -> f.state() == State.GOOD)
        ? "last check found nothing wrong"
        : "last check: " + counted(findings);
  }
}
