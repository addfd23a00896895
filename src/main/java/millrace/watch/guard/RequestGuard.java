// SPDX-License-Identifier: Apache-2.0
package millrace.watch.guard;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import millrace.time.TimeSource;

/**
 * Checks a request before it is processed: the Host header names this server, so that a foreign
 * name is refused; a change comes from a page of this server; the token is right where one is
 * required; the rate is within its limit. Thread-safe.
 */
public final class RequestGuard {
  /**
   * The path of the scans of a shift: an operator scans faster than the limit for other changes.
   */
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
   * The access to the server.
   *
   * @param hosts its names with their port, in lower case, as in a Host header
   * @param tls whether it uses TLS
   * @param token the token; empty where every client that reaches it may read
   */
  public record Door(Set<String> hosts, boolean tls, Optional<AccessToken> token) {
    /** Copies the set. */
    public Door {
      hosts = Set.copyOf(hosts);
    }
  }

  /**
   * The facts of a request; absent headers are empty texts.
   *
   * @param method such as GET
   * @param path the path without query
   * @param from the address of the client
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
   * A refusal.
   *
   * @param status HTTP status
   * @param answer in a few words
   * @param what the advice
   */
  public record Refusal(int status, String answer, String what) {}

  /**
   * Creates a guard.
   *
   * @param door the access to the server
   * @param time the clock of the rate limit
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
   * Checks a request.
   *
   * @param request its facts
   * @return the refusal; empty if it is accepted
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

  /** A page of another site may link here, but may neither read nor change anything. */
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
   * Admits a browser that sends the token.
   *
   * @param given the token sent
   * @param from the address of the client
   * @return the cookie for the browser; empty if it is not admitted
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

  /** The token that a change must carry; a page of another site cannot read it. */
  public String pageToken() {
    return SecretKeys.derived(pageSecret, "millrace watch: a page of this server");
  }

  /** Whether a change carries the token. */
  public boolean isPageToken(String given) {
    return SecretKeys.same(pageToken(), given);
  }
}
