// Package cli is the manner in which every example speaks on a command line, so
// that a script that drives one of them can drive them all.
//
//   - Flags that mean the same are spelt the same: [Common] registers -site, -date,
//     -deltat, -limb, -json and -out, and its zero date, site and Delta T are
//     replaced by the project's scenario in [Scenario].
//   - A mistake in the flags ends with status 2, any other failure with 1, and an
//     answer that is "nothing to see here" with 0: nature's answers are no failure.
//   - A failure is one line on standard error. It names the file or the flag and
//     says what to do.
//   - In JSON an [Instant] is RFC 3339 in UTC with milliseconds, a [Number] has six
//     decimals at most, and what does not exist is null.
//   - Nothing is written but into the folder that -out names.
//
// A program is then flags and a function:
//
//	func main() { cli.Main("plan", run) }
//
//	func run(ctx context.Context, out io.Writer, args []string) error {
//		fs, opt := cli.NewFlagSet("plan", "what happens at a site"), cli.Scenario()
//		opt.Register(fs)
//		if err := cli.Parse(fs, args, out); err != nil {
//			return err
//		}
//		...
//
// It computes nothing about eclipses, and no library package imports it.
package cli
