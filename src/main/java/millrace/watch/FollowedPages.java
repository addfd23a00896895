// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import millrace.watch.bench.BenchPage;
import millrace.watch.live.OwnFaults;
import millrace.watch.shift.ShiftPage;
import org.jspecify.annotations.Nullable;

/** The pages that are followed, each drawn once for all its readers. Thread-safe. */
final class FollowedPages {
  /** Short enough that an operator does not wait for an outcome. */
  private static final Duration AT_ONCE = Duration.ofMillis(150);

  private static final Duration USUAL = Duration.ofSeconds(1);
  private static final Duration SHELF = Duration.ofSeconds(4);
  private static final int MOST = 64;
  private static final int LONGEST_QUERY = 8192;

  private final WatchParts parts;
  private final String pageToken;
  private final OwnFaults faults;
  private final Map<String, SharedPieces> pages =
      new LinkedHashMap<>(32, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<String, SharedPieces> eldest) {
          return size() > MOST;
        }
      };

  /**
   * Creates it.
   *
   * @param parts the inputs of the pages
   * @param pageToken the token that changes must carry; empty text in read-only mode
   */
  FollowedPages(WatchParts parts, String pageToken) {
    this.parts = parts;
    this.pageToken = pageToken;
    this.faults = parts.faults();
  }

  /**
   * The pieces of the page that a request follows.
   *
   * @param path of the request
   * @param query of the request; null for none
   * @param run the path as that of a run
   * @return the pieces; empty where the request follows no page
   */
  Optional<SharedPieces> followed(String path, @Nullable String query, Matcher run) {
    return switch (path) {
      case "/events" ->
          search(query).map(w -> page(path + w.first(), () -> parts.pages().shelfPieces(w), SHELF));
      case "/bench/events" ->
          parts.bench().map(b -> page(path, () -> BenchPage.pieces(b, pageToken), USUAL));
      case "/shift/events" ->
          parts.shift().map(s -> page(path, () -> ShiftPage.pieces(s), AT_ONCE));
      default -> ofRun(run);
    };
  }

  private Optional<SharedPieces> ofRun(Matcher run) {
    if (!run.matches() || !"events".equals(run.group(2))) {
      return Optional.empty();
    }
    long id = Long.parseLong(run.group(1));
    return parts.pages().has(id)
        ? Optional.of(page("/run/" + id, () -> parts.runs().of(id).shown().pieces(), USUAL))
        : Optional.empty();
  }

  private synchronized SharedPieces page(
      String name, Supplier<Map<String, String>> drawing, Duration between) {
    return pages.computeIfAbsent(name, n -> new SharedPieces(drawing, between, faults));
  }

  /** The words of a query; empty where it is malformed or too long. */
  private static Optional<QueryWords> search(@Nullable String query) {
    try {
      return query != null && query.length() > LONGEST_QUERY
          ? Optional.empty()
          : Optional.of(QueryWords.of(query));
    } catch (IllegalArgumentException malformed) {
      return Optional.empty();
    }
  }
}
