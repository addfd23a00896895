// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.Function;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.document.yaml.YamlFile;
import millrace.evidence.DecisionRule.Risks;
import millrace.evidence.ResultQuantity;
import millrace.fault.BadInputException;
import millrace.quantity.Dimension;
import millrace.sequence.SequenceFile.EarlyEndRule;
import millrace.sequence.SequenceFile.FirstFail;
import millrace.sequence.SequenceFile.Production;

/** Reads sequence files. */
public final class SequenceForms {
  private SequenceForms() {}

  private static final int MOST_BOARDS = 10_000;

  private static final YamlForm<SelfCheck> SELF_CHECK =
      YamlMapForm.of(
          "a self-check",
          map ->
              new SelfCheck(
                  map.optional(
                      "reference unit",
                      YamlForms.text("a serial number"),
                      "the unit that checks it"),
                  map.optional(
                      "every",
                      YamlForms.count(1, MOST_BOARDS),
                      "after how many boards it is due")));

  private static final YamlForm<Double> RISK =
      YamlForms.where(
          YamlForms.quantity(Dimension.RATIO),
          Risks::isOne,
          "a risk above 0 and below 50 %, as in '0.1 %'");

  private static final YamlForm<EarlyEndRule> EARLY_END =
      YamlMapForm.of("an early end", SequenceForms::earlyEnd);

  /** How a sequence is written. */
  public static final YamlForm<SequenceFile> SEQUENCE =
      YamlMapForm.of("a sequence", SequenceForms::sequence);

  /** Something that gives the bytes of a file. */
  public interface Source extends Function<Path, byte[]> {}

  /**
   * A sequence with every file that it was made of.
   *
   * @param sequence the sequence, its parts put in
   * @param files every file read, by its path, in the order of reading
   */
  public record Loaded(SequenceFile sequence, Map<Path, byte[]> files) {}

  /**
   * Reads a file from disk and puts its parts in.
   *
   * @param path the file
   * @return the sequence
   * @throws BadInputException with every fault found; a part that includes itself is one
   */
  public static Loaded read(Path path) {
    return read(path, YamlFile::bytes);
  }

  /**
   * Reads a file and puts its parts in.
   *
   * @param path the file
   * @param source gives the bytes of it and of its parts
   * @return the sequence
   * @throws BadInputException with every fault found; a part that includes itself is one
   */
  public static Loaded read(Path path, Source source) {
    Map<Path, byte[]> files = new LinkedHashMap<>();
    SequenceFile whole = new SequencePartInclusion(SEQUENCE, source, files).load(path);
    return new Loaded(whole, files);
  }

  private static SequenceFile sequence(YamlKeys map) {
    String title = map.required("sequence", YamlForms.text("a title"), "what it is called");
    map.optional("about", YamlForms.text("a remark"), "a remark for people");
    return new SequenceFile(
        title,
        map.optional(
            "compute", compute(), Set.of(), "which results; default all. Of a part it is ignored"),
        production(map),
        map.optional(
            "adaptive",
            YamlForms.yesNo(),
            false,
            "'yes' looks at the plan again after each temperature: what is decided is left out,"
                + " what is not gets the time, as 'run --adaptive' does. Of a part it is ignored"),
        MeasuringRuleForms.of(map),
        map.required("steps", YamlForms.list(StepForms.STEP, 1), "what is done, in order"));
  }

  private static Production production(YamlKeys map) {
    FirstFail firstFail =
        map.optional(
            "first fail",
            YamlForms.choice(FirstFail.values(), FirstFail::text),
            FirstFail.GO_ON,
            "in production: 'stop' leaves out the rest of a board once a limit is not met, 'go on'"
                + " (default) measures all. Of a part it is ignored");
    Optional<SelfCheck> check =
        map.optional(
            "self-check",
            SELF_CHECK,
            "in production: which unit checks the bench, and how often. Of a part it is ignored");
    return new Production(
        firstFail,
        check.flatMap(SelfCheck::reference),
        check.flatMap(SelfCheck::every),
        map.optional(
            "early end",
            EARLY_END,
            "in production: a board ends once every limit is met, or one is broken, at these risks;"
                + " what is settled is not measured again. Of a part it is ignored"));
  }

  private static EarlyEndRule earlyEnd(YamlKeys map) {
    return new EarlyEndRule(
        new Risks(
            map.required("consumer risk", RISK, "at most so many boards with a limit broken pass"),
            map.required(
                "producer risk", RISK, "at most so many boards with every limit met fail")),
        map.optional(
            "again for",
            compute(),
            Set.of(),
            "what later passes are for: limits on anything else are settled by their rule once they"
                + " are measured; default all"));
  }

  private record SelfCheck(Optional<String> reference, Optional<Integer> every) {}

  private static YamlForm<Set<ResultQuantity>> compute() {
    Map<String, Set<ResultQuantity>> words = new LinkedHashMap<>();
    words.put("all", Set.of());
    for (ResultQuantity quantity : ResultQuantity.values()) {
      words.put(quantity.key(), Set.of(quantity));
    }
    return YamlForms.map(
        YamlForms.list(YamlForms.choice(words), 1),
        sets -> {
          Set<ResultQuantity> wanted = new TreeSet<>();
          sets.forEach(wanted::addAll);
          return sets.contains(Set.<ResultQuantity>of()) ? Set.of() : wanted;
        });
  }
}
