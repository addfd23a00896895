// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import millrace.datasheet.Datasheet;
import millrace.document.FileMessageText;
import millrace.document.RegexFromFile;

/**
 * Decides whether a unit may be tested (methods.md 8): the first result counts, a retest needs a
 * cause.
 */
final class BoardAdmission {
  private static final DateTimeFormatter AT =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm:ss 'UTC'", Locale.ROOT)
          .withZone(ZoneOffset.UTC);

  private final ProductionRules rules;
  private final BoardTestHistory history;

  BoardAdmission(ProductionRules rules, BoardTestHistory history) {
    this.rules = rules;
    this.history = history;
  }

  /**
   * The facts about a unit that may be tested.
   *
   * @param attempt the number of this test
   * @param first the outcome of its first test that ended; empty if none did
   * @param counting the result that counts already, a sentence: the operator must state the cause
   *     of another test; empty for a first test
   * @param cause the cause of another test, where it is known without a question
   */
  record Admitted(
      int attempt,
      Optional<BoardOutcome> first,
      Optional<String> counting,
      Optional<String> cause) {
    Admitted because(String answer) {
      return new Admitted(attempt, first, counting, Optional.of(answer));
    }
  }

  /** A refusal in words, or the facts about the unit. */
  record Answer(Optional<OperatorScreen.Refused> refusal, Optional<Admitted> admitted) {
    private static Answer no(String serial, String reason, String remedy) {
      return new Answer(
          Optional.of(new OperatorScreen.Refused(serial, reason, remedy)), Optional.empty());
    }
  }

  Answer of(String serial) {
    Datasheet sheet = rules.sheet();
    if (sheet.serial().filter(p -> !p.matcher(serial).matches()).isPresent()) {
      return Answer.no(
          serial,
          "it is no serial number of the kind %s, which look like %s."
              .formatted(sheet.name(), RegexFromFile.shown(sheet.serial().orElseThrow())),
          "Scan it again; if it is read rightly, it is a unit of another kind: put it aside.");
    }
    List<EarlierTestOfUnit> before = history.of(serial);
    return otherKind(before)
        .map(
            e ->
                Answer.no(
                    serial,
                    "it was tested as another kind, %s, in run %s."
                        .formatted(FileMessageText.quoted(e.kind().orElseThrow()), e.run()),
                    "This is a unit of another kind, or the label was used twice: put it aside."))
        .orElseGet(() -> of(serial, before));
  }

  private Optional<EarlierTestOfUnit> otherKind(List<EarlierTestOfUnit> before) {
    String mine = rules.sheet().name();
    return before.stream().filter(e -> e.kind().filter(k -> !k.equals(mine)).isPresent()).findAny();
  }

  private Answer of(String serial, List<EarlierTestOfUnit> before) {
    List<EarlierTestOfUnit> ended = before.stream().filter(e -> e.outcome().ended()).toList();
    if (ended.isEmpty()) {
      return new Answer(Optional.empty(), Optional.of(fresh(before)));
    }
    int retests = ended.size() - 1;
    int most = rules.sheet().retests();
    EarlierTestOfUnit first = ended.get(0);
    if (retests >= most) {
      return Answer.no(
          serial,
          "it is already tested, and its %s allowed %s used up; the first result counts: %s (run %s)."
              .formatted(
                  most,
                  most == 1 ? "retest is" : "retests are",
                  first.outcome().text(),
                  first.run()),
          "Put it aside.");
    }
    return new Answer(
        Optional.empty(),
        Optional.of(
            new Admitted(
                before.size() + 1,
                Optional.of(first.outcome()),
                Optional.of(counting(serial, first, most - retests)),
                Optional.empty())));
  }

  /** An aborted test showed no result, so another test is no choice between results. */
  private static Admitted fresh(List<EarlierTestOfUnit> brokenOff) {
    Optional<String> cause =
        brokenOff.isEmpty()
            ? Optional.empty()
            : Optional.of(
                "the test before was broken off (run %s)"
                    .formatted(brokenOff.get(brokenOff.size() - 1).run()));
    return new Admitted(brokenOff.size() + 1, Optional.empty(), Optional.empty(), cause);
  }

  private static String counting(String serial, EarlierTestOfUnit first, int left) {
    return "%s is already tested: %s in run %s, %s. That result counts, whatever comes now (retests left: %s)."
        .formatted(serial, first.outcome().text(), first.run(), AT.format(first.at()), left);
  }
}
