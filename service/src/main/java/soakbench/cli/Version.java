package soakbench.cli;

import picocli.CommandLine.IVersionProvider;

/** The version that the build wrote into the jar. */
final class Version implements IVersionProvider {
  @Override
  public String[] getVersion() {
    String built = Version.class.getPackage().getImplementationVersion();
    return new String[] {"soakbench " + (built == null ? "(not from a jar)" : built)};
  }
}
