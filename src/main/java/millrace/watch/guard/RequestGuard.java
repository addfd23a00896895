// SPDX-License-Identifier: Apache-2.0
package millrace.watch.guard;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import millrace.time.TimeSource;

/**
 * What a request must be before anything is done for it: sent to this server by its name, so that
 * no foreign name leads here; from a page of this server where it changes something; with the token
 * where one is asked for; and not one of too many. Thread-safe.
 */
public final class RequestGuard {
  /** Where scans of a shift are posted: as fast as an operator scans. */
  public static final String SCAN = "/shift/scan";

  /** The name of the cookie. */
  private static final String COOKIE = "millrace-watch";

  private static final int WEEK_S = 604_800;

  private final Door door;
  private final RateLimit all;
  private final RateLimit changes;
  private final RateLimit scans;
  private final RateLimit wrongTokens;
  private final String pageSecret;

  /**
   * How the server can be reached.
   *
   * @param hosts its names with their port, small letters, as a Host header says them
   * @param tls whether it speaks TLS
   * @param token what opens it; empty where everybody who reaches it may read
   */
  public record Door(Set<String> hosts, boolean tls, Optional<AccessToken> token) {
    /** Copies the set. */
    public Door {
      hosts = Set.copyOf(hosts);
    }
  }

  /**
   * What a request says of itself; absent headers are empty texts.
   *
   * @param method such as GET
   * @param path the path alone
   * @param from the address that it came from
   * @param host Host header
   * @param origin Origin header
   * @param site Sec-Fetch-Site header
   * @param cookies Cookie header
   */
  public record Request(
      String method,
      String path,
      String from,
      String host,
      String origin,
      String site,
      String cookies) {}

  /**
   * Why nothing is done.
   *
   * @param status HTTP status
   * @param answer in a few words
   * @param what what to do
   */
  public record Refusal(int status, String answer, String what) {}

  /**
   * A guard.
   *
   * @param door how the server can be reached
   * @param time counts how often
   */
  public RequestGuard(Door door, TimeSource time) {
    this.door = door;
    this.all = new RateLimit(200, 50, time);
    this.changes = new RateLimit(10, 0.5, time);
    this.scans = new RateLimit(40, 4, time);
    this.wrongTokens = new RateLimit(5, 0.05, time);
    this.pageSecret = door.token().map(AccessToken::cookie).orElseGet(SecretKeys::fresh);
  }

  /**
   * Looks at a request.
   *
   * @param request what it says of itself
   * @return why it is refused; empty if it is not
   */
  public Optional<Refusal> refusal(Request request) {
    if (!door.hosts().contains(request.host().toLowerCase(Locale.ROOT))) {
      return refused(421, "Not under this name", "Open the address that the terminal shows.");
    }
    if (!all.allows(request.from())) {
      return refused(429, "Too many requests", "Wait a moment, then load the page again.");
    }
    boolean change = !request.method().equals("GET");
    if (foreign(request, change)) {
      return refused(403, "Asked from another site", "Open the page itself and ask there.");
    }
    RateLimit limit = request.path().equals(SCAN) ? scans : changes;
    if (change && !limit.allows(request.from())) {
      return refused(429, "Too many changes", "Wait some seconds, then ask again.");
    }
    boolean known = door.token().map(t -> knows(request.cookies(), t)).orElse(true);
    if (!known && !request.path().equals("/enter")) {
      return refused(
          401, "The token is wanted", "Open the address with the token that the terminal showed.");
    }
    return Optional.empty();
  }

  private static Optional<Refusal> refused(int status, String answer, String what) {
    return Optional.of(new Refusal(status, answer, what));
  }

  /** A page of another site may link here, but neither read here nor change anything. */
  private boolean foreign(Request request, boolean change) {
    String own = (door.tls() ? "https://" : "http://") + request.host().toLowerCase(Locale.ROOT);
    if (change || !request.origin().isEmpty()) {
      return !request.origin().toLowerCase(Locale.ROOT).equals(own);
    }
    boolean page = request.path().equals("/") || request.path().matches("/run/\\d+|/enter");
    return !page && Set.of("cross-site", "same-site").contains(request.site());
  }

  private static boolean knows(String cookies, AccessToken token) {
    return Arrays.stream(cookies.split(";"))
        .map(String::strip)
        .filter(c -> c.startsWith(COOKIE + "="))
        .anyMatch(c -> SecretKeys.same(c.substring(COOKIE.length() + 1), token.cookie()));
  }

  /**
   * Lets a browser in that brings the token.
   *
   * @param given what it brings
   * @param from the address that it came from
   * @return the cookie that it is to keep; empty if it is not let in
   */
  public Optional<String> enter(String given, String from) {
    if (door.token().isEmpty() || wrongTokens.isSpent(from)) {
      return Optional.empty();
    }
    AccessToken token = door.token().get();
    if (!token.is(given)) {
      wrongTokens.allows(from);
      return Optional.empty();
    }
    return Optional.of(
        "%s=%s; Path=/; HttpOnly; SameSite=Strict; Max-Age=%s%s"
            .formatted(COOKIE, token.cookie(), WEEK_S, door.tls() ? "; Secure" : ""));
  }

  /** What a change must bring along; a page of another site cannot read it. */
  public String pageToken() {
    return SecretKeys.derived(pageSecret, "millrace watch: a page of this server");
  }

  /** Whether a change brings it along. */
  public boolean isPageToken(String given) {
    return SecretKeys.same(pageToken(), given);
  }
}
