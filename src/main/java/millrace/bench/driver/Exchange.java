package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.Optional;

/** One thing that is said to an instrument, or waited for. */
sealed interface Exchange {

  /**
   * A command without a reply.
   *
   * @param text with placeholders
   */
  record Send(Template text) implements Exchange {}

  /**
   * A question whose reply must match.
   *
   * @param text with placeholders
   * @param expect what the reply must match; empty for anything
   * @param until if present, the question is repeated until the reply matches, at most this long
   * @param every pause between repetitions
   */
  record Ask(Template text, Optional<Pattern> expect, Optional<Duration> until, Duration every)
      implements Exchange {}

  /**
   * A pause.
   *
   * @param span how long
   */
  record Pause(Duration span) implements Exchange {}
}
