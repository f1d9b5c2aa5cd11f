package soakbench.cli.options;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import picocli.CommandLine.Option;
import soakbench.api.alarms.AlarmWebhook;

/** Where alarms are posted to, beside the board. */
public final class AlarmOptions {
  @Option(
      names = "--alarm-url",
      paramLabel = "URL",
      description =
          "posts each alarm there as JSON when it is raised, becomes worse, is seen, ends")
  private String url;

  @Option(
      names = "--alarm-token-file",
      paramLabel = "FILE",
      description = "file with the token that goes with it (Authorization: Bearer TOKEN)")
  private Path tokenFile;

  /**
   * The webhook; null where no address is given.
   *
   * @throws CommandException if it is no address, or the token can't be used; the token is not
   *     quoted
   */
  public AlarmWebhook post() throws IOException {
    if (url == null) {
      if (tokenFile != null) {
        throw new CommandException("--alarm-token-file goes with --alarm-url; give both or none");
      }
      return null;
    }
    String token = tokenFile == null ? null : Files.readString(tokenFile).strip();
    if (token != null && !token.matches("[!-~]+")) {
      throw new CommandException(
          tokenFile + " does not hold one word of plain characters, so no token");
    }
    return new AlarmWebhook(HttpAddress.of("--alarm-url", url, "http://HOST/"), () -> token);
  }
}
