package millrace.sequence;

import java.util.List;
import millrace.fault.Place;

/** One step of a sequence: a sweep over a condition, a task, or a part from another file. */
public sealed interface Step {
  /**
   * Where it stands.
   *
   * @return its place in its file
   */
  Place place();

  /**
   * Goes through the values of a condition, and does its steps at each.
   *
   * @param place where it stands
   * @param over which condition, which values
   * @param rules what it says of readings, settling and failure
   * @param does what is done at each, in order
   */
  record Sweep(Place place, Over over, RuleWords rules, List<Step> does) implements Step {
    /** Copies the list. */
    public Sweep {
      does = List.copyOf(does);
    }
  }

  /**
   * One thing that is done.
   *
   * @param place where it stands
   * @param task what
   * @param rules what it says of readings, settling and failure
   */
  record Do(Place place, Task task, RuleWords rules) implements Step {}

  /**
   * The steps of another file, not yet put in.
   *
   * @param place where it stands
   * @param file its path, relative to the file that names it
   * @param rules what is said of readings, settling and failure where it is named
   */
  record Part(Place place, String file, RuleWords rules) implements Step {}

  /**
   * Steps that share rules: a part that was put in.
   *
   * @param place where it stands
   * @param rules what is said of readings, settling and failure
   * @param does the steps, in order
   */
  record Group(Place place, RuleWords rules, List<Step> does) implements Step {
    /** Copies the list. */
    public Group {
      does = List.copyOf(does);
    }
  }
}
