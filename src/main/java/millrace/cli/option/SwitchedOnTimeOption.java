// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.logbook.RunFacts;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.run.control.OperatorPrompt;
import millrace.run.journal.WarmUp;
import picocli.CommandLine.Option;

/** The time since bench and unit were switched on: given beforehand, or asked where it matters. */
public final class SwitchedOnTimeOption {
  private static final int MOST_TRIES = 3;

  @Option(
      names = "--on-for",
      paramLabel = "SPAN",
      description =
          "How long instruments and unit have been switched on, as in '2 h'; asked unless given"
              + " where datasheet or bench file state a warm-up. Points before its end are"
              + " flagged.")
  private Optional<String> given = Optional.empty();

  /** The fact that a run stores of it; none where no warm-up is needed. */
  public RunFacts facts(List<WarmUp.Need> needs, OperatorPrompt operator) {
    if (given.isPresent()) {
      return RunFacts.NONE.onFor(said(given.get()));
    }
    return needs.isEmpty() ? RunFacts.NONE : RunFacts.NONE.onFor(asked(needs, operator));
  }

  private static Duration said(String text) {
    try {
      Duration span = span(text);
      if (!span.isNegative()) {
        return span;
      }
      throw new BadInputException(
          new InputFault(
              FilePlace.of("--on-for"),
              FileMessageText.quoted(text) + " lies in the future",
              "how long it has been on already, as in '2 h'",
              "Say '0 s' for what was switched on just now."));
    } catch (QuantityException e) {
      throw new BadInputException(e.at(FilePlace.of("--on-for")));
    }
  }

  private static Duration span(String text) {
    return TimeSpanSeconds.ofSeconds(QuantityText.parse(text, Dimension.TIME));
  }

  /** Where the time is not known, everything counts as switched on just now. */
  private static Duration asked(List<WarmUp.Need> needs, OperatorPrompt operator) {
    String who = String.join(", ", needs.stream().map(WarmUp.Need::text).toList());
    String question =
        "For how long have all of them been switched on (%s)? As in '2 h':".formatted(who);
    for (int i = 0; i < MOST_TRIES; i++) {
      try {
        Duration span = span(operator.ask(question));
        if (!span.isNegative()) {
          return span;
        }
        question = "That lies in the future: how long have they been on already, as in '45 min':";
      } catch (QuantityException e) {
        question = "Not understood: a time span is asked, as in '45 min':";
      }
    }
    return Duration.ZERO;
  }
}
