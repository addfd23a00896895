// SPDX-License-Identifier: Apache-2.0
package millrace.cli.logbook;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import millrace.cli.exit.ExitCode;
import millrace.document.FileMessageText;
import millrace.document.file.LabSigningKey;
import millrace.logbook.Logbook;
import millrace.logbook.RunSummary;
import millrace.logbook.RunVerification;
import millrace.quantity.NumberText;
import millrace.terminal.Console;

/**
 * The result of a comparison of a run with its digest, its seals and a signature, verdict first.
 */
final class VerificationSummary {
  /** Fewer digits could match by chance. */
  private static final int LEAST_DIGITS = 8;

  private final Console console;
  private final Logbook book;
  private final RunSummary run;

  VerificationSummary(Console console, Logbook book, RunSummary run) {
    this.console = console;
    this.book = book;
    this.run = run;
  }

  /** Prints the result; 5 if anything differs or nothing proves the run unchanged. */
  ExitCode tell(Optional<String> printed, Optional<LabSigningKey.Checking> key) {
    RunVerification found = book.verify(run.id());
    boolean sound = verdict(found);
    boolean whole = printed.map(hex -> known(found, hex)).orElse(true);
    boolean signed = key.map(k -> signed(found, k)).orElse(true);
    console.print("digest computed: " + found.computed());
    if (sound && key.isEmpty()) {
      console.print(
          "What that proves: nothing was changed since by accident, or by hand without computing"
              + " all digests anew. Whoever may write the file can do that; against them stand a"
              + " digest kept elsewhere (--digest) and a signature (--key).");
    }
    return sound && whole && signed ? ExitCode.DONE : ExitCode.LOGBOOK;
  }

  private boolean verdict(RunVerification found) {
    if (found.sound()) {
      console.print(
          "verified: the file is whole, and the data, judgings and notes of run %s are those that were stored (%s)"
              .formatted(run.id(), NumberText.counted(found.seals().size(), "seal")));
      return true;
    }
    if (found.faults().isEmpty()) {
      console.print(
          "NOT verified: run %s has not ended, so it has no digest that its data could be held against; what is there is whole"
              .formatted(run.id()));
      return false;
    }
    console.print("NOT verified: run %s does not fit its digest and seal".formatted(run.id()));
    found.faults().forEach(f -> console.error("millrace: " + f));
    return false;
  }

  /** Whether a printed code is a digest or seal of this run, and the entries after it. */
  private boolean known(RunVerification found, String hex) {
    String wanted = hex.strip().toLowerCase(Locale.ROOT);
    List<RunVerification.Seal> seals = found.seals();
    if (wanted.length() >= LEAST_DIGITS && wanted.matches("[0-9a-f]+")) {
      if (found.computed().startsWith(wanted)) {
        console.print("that digest is of the data as they stand");
        return true;
      }
      for (int i = 0; i < seals.size(); i++) {
        if (seals.get(i).seal().startsWith(wanted)) {
          console.print("that seal is of the run up to its " + place(seals, i));
          return true;
        }
      }
    }
    console.error(
        "millrace: %s is no digest or seal of run %s; expected %s hexadecimal digits or more of one. Either the run was changed and sealed anew since, or it is of another run."
            .formatted(FileMessageText.quoted(hex), run.id(), LEAST_DIGITS));
    return false;
  }

  private static String place(List<RunVerification.Seal> seals, int index) {
    int later = seals.size() - 1 - index;
    return seals.get(index).what()
        + " (seal %s)".formatted(index + 1)
        + (later == 0 ? ", the last" : "; added since: " + added(seals, index + 1));
  }

  private static String added(List<RunVerification.Seal> seals, int from) {
    return String.join(
        ", ", seals.subList(from, seals.size()).stream().map(RunVerification.Seal::what).toList());
  }

  private boolean signed(RunVerification found, LabSigningKey.Checking key) {
    Optional<Long> covers = book.signed(run.id(), key);
    if (covers.isEmpty()) {
      console.error(
          "millrace: run %s is not signed by that key; expected a signature of it. Ask the laboratory for its public key, or for the run signed: 'millrace export --pack --sign'."
              .formatted(run.id()));
      return false;
    }
    // The signature itself is a seal too, but no later entry: it is left out.
    List<RunVerification.Seal> others =
        found.seals().stream().filter(seal -> !seal.what().equals("signature")).toList();
    String sealed = found.seals().get(covers.get().intValue() - 1).seal();
    int at = others.stream().map(RunVerification.Seal::seal).toList().indexOf(sealed);
    console.print(
        "signed by that key up to its "
            + (at < 0 ? place(found.seals(), covers.get().intValue() - 1) : place(others, at)));
    return true;
  }
}
