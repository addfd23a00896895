package millrace.sequence;

import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import millrace.document.Form;
import millrace.document.Forms;
import millrace.document.MapForm;
import millrace.document.MapForm.Key;
import millrace.document.YamlFile;
import millrace.evidence.ResultQuantity;
import millrace.fault.BadInputException;
import millrace.fault.Fault;
import millrace.fault.Place;
import millrace.quantity.Dimension;
import millrace.sequence.SequenceFile.OnFailure;
import millrace.sequence.SequenceFile.ReadingRule;
import millrace.sequence.SequenceFile.Rules;
import millrace.sequence.SequenceFile.SettleRule;

/** Reads sequence files. */
public final class SequenceForms {
  private SequenceForms() {}

  /** How a sequence is written. */
  public static final Form<SequenceFile> SEQUENCE = sequence();

  /** Something that gives the bytes of a file. */
  public interface Source extends Function<Path, byte[]> {}

  /**
   * A sequence with every file that it was made of.
   *
   * @param sequence the sequence, its parts put in
   * @param files every file read, by its path, in the order of reading
   */
  public record Loaded(SequenceFile sequence, java.util.Map<Path, byte[]> files) {}

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
    java.util.Map<Path, byte[]> files = new java.util.LinkedHashMap<>();
    SequenceFile whole = load(path, source, files, new ArrayDeque<>());
    return new Loaded(whole, files);
  }

  private static SequenceFile load(
      Path path, Source source, java.util.Map<Path, byte[]> files, Deque<Path> chain) {
    byte[] bytes = source.apply(path);
    files.put(path, bytes);
    SequenceFile file = SEQUENCE.readFile(path.toString(), bytes);
    chain.addLast(path.normalize());
    List<Step> steps = putIn(file.steps(), path, source, files, chain);
    chain.removeLast();
    return new SequenceFile(file.title(), file.compute(), file.rules(), steps);
  }

  private static List<Step> putIn(
      List<Step> steps,
      Path from,
      Source source,
      java.util.Map<Path, byte[]> files,
      Deque<Path> chain) {
    List<Step> whole = new ArrayList<>();
    Function<List<Step>, List<Step>> inner = does -> putIn(does, from, source, files, chain);
    for (Step step : steps) {
      if (step instanceof Step.Part part) {
        Path path = from.resolveSibling(part.file());
        refuseCycle(part.place(), path.normalize(), chain);
        whole.addAll(load(path, source, files, chain).steps());
      } else {
        whole.add(StepForms.withInner(step, inner));
      }
    }
    return whole;
  }

  private static void refuseCycle(Place place, Path path, Deque<Path> chain) {
    if (chain.contains(path)) {
      List<String> names = new ArrayList<>();
      chain.forEach(p -> names.add(p.toString()));
      names.add(path.toString());
      throw new BadInputException(
          new Fault(
              place,
              "a part includes itself: " + String.join(" -> ", names),
              "parts that end",
              "Take one of these parts out."));
    }
  }

  private static Form<SequenceFile> sequence() {
    MapForm.Builder map = MapForm.of("a sequence");
    Key<String> title = map.required("sequence", Forms.text("a title"), "what it is called");
    map.optional("about", Forms.text("a remark"), "a remark for people");
    Key<Set<ResultQuantity>> compute =
        map.optional("compute", compute(), Set.of(), "which results; default all");
    Key<Optional<ReadingRule>> readings =
        map.optional("readings", readings(), "how readings are taken");
    Key<Optional<SettleRule>> settle =
        map.optional("settle", settle(), "how long to wait after a change");
    Key<Optional<OnFailure>> failure =
        map.optional("on failure", onFailure(), "stop, skip, or go on flagged (default)");
    Key<List<Step>> steps =
        map.required("steps", Forms.list(StepForms.STEP, 1), "what is done, in order");
    return map.reads(
        v ->
            new SequenceFile(
                v.get(title),
                v.get(compute),
                new Rules(
                    v.get(readings).orElse(ReadingRule.DEFAULT),
                    v.get(settle).orElse(SettleRule.DEFAULT),
                    v.get(failure).orElse(OnFailure.GO_ON_FLAGGED)),
                v.get(steps)));
  }

  private static Form<Set<ResultQuantity>> compute() {
    Form<String> word =
        Forms.where(
            Forms.text("a result, or all"),
            w -> w.equals("all") || ResultQuantity.byKey(w).isPresent(),
            "the name of a result, such as tempco, or all");
    return Forms.map(
        Forms.list(word, 1),
        words -> {
          Set<ResultQuantity> wanted = new java.util.TreeSet<>();
          words.forEach(w -> ResultQuantity.byKey(w).ifPresent(wanted::add));
          return words.contains("all") ? Set.of() : wanted;
        });
  }

  static Form<OnFailure> onFailure() {
    return Forms.choice(OnFailure.values(), OnFailure::text);
  }

  static Form<ReadingRule> readings() {
    MapForm.Builder map = MapForm.of("how readings are taken");
    Key<Integer> count = map.optional("count", Forms.count(1, 1_000_000), 10, "default 10");
    Key<Double> cycles =
        map.optional(
            "line cycles", Forms.quantity(Dimension.NUMBER), 10.0, "integration; default 10");
    Key<Optional<Double>> until =
        map.optional(
            "until uncertainty below",
            Forms.quantity(Dimension.RATIO),
            "standard uncertainty of the mean, of the nominal current");
    Key<Optional<Integer>> most =
        map.optional("at most", Forms.count(1, 1_000_000), "readings, if an uncertainty is asked");
    return map.reads(
        v ->
            new ReadingRule(
                v.get(count),
                v.get(cycles),
                v.get(until),
                v.get(most).orElse(v.get(until).isPresent() ? 10 * v.get(count) : v.get(count))));
  }

  static Form<SettleRule> settle() {
    MapForm.Builder map = MapForm.of("how it settles");
    Key<Double> wait =
        map.optional("wait", Forms.quantity(Dimension.TIME), 1.0, "fixed; default 1 s");
    Key<Optional<Double>> within =
        map.optional("within", Forms.quantity(Dimension.RATIO), "until readings agree");
    Key<Double> most =
        map.optional("at most", Forms.quantity(Dimension.TIME), 60.0, "bound; default 60 s");
    return map.reads(v -> new SettleRule(v.get(wait), v.get(within), v.get(most)));
  }
}
