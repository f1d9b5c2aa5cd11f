package soakbench.cli.options;

import java.net.URI;

/** Addresses that an option names. */
public final class HttpAddress {
  private HttpAddress() {}

  /**
   * The address that a text is.
   *
   * @param option as typed, for what is said where it is none
   * @param example what one looks like
   * @throws CommandException if it is no address of http or https with a host
   */
  public static URI of(String option, String text, String example) {
    try {
      URI uri = URI.create(text);
      boolean http = "http".equals(uri.getScheme()) || "https".equals(uri.getScheme());
      if (http && uri.getHost() != null) {
        return uri;
      }
    } catch (IllegalArgumentException e) {
      throw new CommandException(refusal(option, text, example), e);
    }
    throw new CommandException(refusal(option, text, example));
  }

  private static String refusal(String option, String text, String example) {
    return option + " " + text + " is no address; it looks like " + example;
  }
}
