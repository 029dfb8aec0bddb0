#!/usr/bin/env bash
# The Debian packages, installed by dpkg into an empty root: nothing in it but dpkg's own list. The program runs from there
# with the shared libraries of this machine, a program of others is built against the library in it, and after removal
# nothing is left.
#   package.sh ROOT CMAKE COMPILER VERSION BUILD
set -euo pipefail
unset SOURCE_DATE_EPOCH
root=$1 cmake=$2 compiler=$3 version=$4 build=$5
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() { echo "FAIL: $*"; exit 1; }
(cd "$work" && "$(dirname "$cmake")/cpack" -B "$work/made" --config "$build/CPackConfig.cmake") > "$work/cpack.log" 2>&1 ||
    { cat "$work/cpack.log"; fail "cpack"; }
# Packed once more, a while later and elsewhere: the same bytes.
sleep 1.1
(mkdir "$work/again" && cd "$work/again" && "$(dirname "$cmake")/cpack" -B "$work/again/made" --config "$build/CPackConfig.cmake") > "$work/cpack.log" 2>&1
for deb in "$work"/made/*.deb; do cmp "$deb" "$work/again/made/$(basename "$deb")" || fail "packed twice, $deb differs"; done
architecture=$(dpkg --print-architecture) machine=$(dpkg-architecture -qDEB_HOST_MULTIARCH)
packages=(benchfeed libbenchfeed-dev)
[ ! -e "$build/benchfeed_pdf.so" ] || packages+=(benchfeed-pdf)
for package in "${packages[@]}"; do
    deb=$work/made/${package}_${version}_$architecture.deb
    [ -f "$deb" ] || fail "no $deb among $(ls "$work/made")"
    [ "$(dpkg-deb -f "$deb" Version)" = "$version" ] || fail "version of $package"
done
dpkg-deb -f "$work/made/benchfeed_${version}_$architecture.deb" Depends | grep -q 'libc6' || fail "libraries that the program needs"
[ "$(ls "$work/made"/*.deb | wc -l)" = ${#packages[@]} ] || fail "other packages than ${packages[*]}: $(ls "$work/made")"

clean=$work/root
mkdir -p "$clean/var/lib/dpkg/updates" "$clean/var/lib/dpkg/info"
touch "$clean/var/lib/dpkg/status"
# The root is empty, so what the packages depend on is not in it; whether Debian has it is asked below.
dpkg --root="$clean" --force-not-root --force-depends --log=/dev/null -i "$work"/made/*.deb > "$work/dpkg.log" 2>&1 ||
    { cat "$work/dpkg.log"; fail "dpkg -i"; }
for file in bin/benchfeed share/man/man1/benchfeed.1.gz share/bash-completion/completions/benchfeed \
    share/zsh/vendor-completions/_benchfeed share/fish/vendor_completions.d/benchfeed.fish share/doc/benchfeed/SAFETY.md \
    share/doc/benchfeed/copyright share/doc/libbenchfeed-dev/copyright "lib/$machine/libbenchfeed.a" \
    "lib/$machine/pkgconfig/benchfeed.pc" share/man/man1/benchfeed-check.1.gz; do
    [ -s "$clean/usr/$file" ] || fail "/usr/$file is missing"
done
[ "$(stat -c %Y "$clean/usr/bin/benchfeed")" = "$(dpkg-parsechangelog -l "$root/.packaging/changelog" -S Timestamp)" ] ||
    fail "the program is not as old as its version"
dpkg --root="$clean" --force-not-root -L benchfeed | grep -q include && fail "the program brings headers"
[ "$("$clean/usr/bin/benchfeed" --version)" = "benchfeed $version" ] || fail "version of the program"
[ "$(cd "$root" && "$clean/usr/bin/benchfeed" check --quiet data/plans/heron-lane.toml)" = \
  "$(cd "$root" && "$build/benchfeed" check --quiet data/plans/heron-lane.toml)" ] || fail "the program judges otherwise"
# PDF is written where its package is, and where it is not, the program says which one that would be.
pdf() { "$clean/usr/bin/benchfeed" card "$root/data/plans/heron-lane.toml" --format pdf 2> "$work/pdf.err" > "$work/pdf"; }
if [ -e "$build/benchfeed_pdf.so" ]; then
    needed=$(dpkg-deb -f "$work/made/benchfeed-pdf_${version}_$architecture.deb" Depends)
    for library in "benchfeed (= $version)" libcairo2 libpangocairo fonts-liberation; do
        grep -qF "$library" <<< "$needed" || fail "benchfeed-pdf does not need $library: $needed"
    done
    dpkg-deb -f "$work/made/benchfeed_${version}_$architecture.deb" Depends | grep -q cairo && fail "the program needs cairo"
    pdf || fail "no PDF: $(cat "$work/pdf.err")"
    cmp "$work/pdf" <("$build/benchfeed" card "$root/data/plans/heron-lane.toml" --format pdf) || fail "the PDF is another one"
    [ "$(head -c 5 "$work/pdf")" = "%PDF-" ] || fail "this is no PDF"
    module=$clean/usr/lib/$machine/benchfeed/benchfeed_pdf.so
    echo 'no module' > "$module"
    pdf && fail "a PDF by what is no module"
    grep -q 'cannot be loaded: .*benchfeed_pdf.so' "$work/pdf.err" || fail "what is no module: $(cat "$work/pdf.err")"
    dpkg --root="$clean" --force-not-root --log=/dev/null --purge benchfeed-pdf > "$work/dpkg.log" 2>&1 || fail "dpkg --purge benchfeed-pdf"
fi
pdf && fail "a PDF without its module"
grep -q 'package benchfeed-pdf' "$work/pdf.err" || fail "no PDF, and no word of its package: $(cat "$work/pdf.err")"
gzip -dc "$clean/usr/share/man/man1/benchfeed.1.gz" | grep -q '^\.TH ' || fail "the manual page"
bash -n "$clean/usr/share/bash-completion/completions/benchfeed"
bash "$root/tests/consumer/run.sh" "$root" "$cmake" "$compiler" "$version" --prefix "$clean/usr"
dpkg --root="$clean" --force-not-root --log=/dev/null --purge benchfeed libbenchfeed-dev > "$work/dpkg.log" 2>&1 || fail "dpkg --purge"
left=$(find "$clean" -type f -not -path '*/var/lib/dpkg/*')
[ -z "$left" ] || fail "left after removal: $left"
# Debian has what they depend on, where this machine knows Debian's lists.
if compgen -G '/var/lib/apt/lists/*_Packages*' > /dev/null; then
    apt-get install --simulate -qq "$work"/made/*.deb > "$work/apt.log" 2>&1 || { cat "$work/apt.log"; fail "apt does not find what they need"; }
fi
if command -v lintian > /dev/null; then
    lintian --allow-root --fail-on error --suppress-tags-from-file "$root/.packaging/lintian" "$work"/made/*.deb
fi
