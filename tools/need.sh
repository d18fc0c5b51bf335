#!/bin/sh
# Make sure a program is there: need.sh PROGRAM PACKAGE...
# Installs Debian packages where it is missing and we are root; otherwise says what to install.
program=$1
shift
command -v "$program" >/dev/null 2>&1 && exit 0
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
	apt-get update -qq && DEBIAN_FRONTEND=noninteractive \
		apt-get install -y -qq --no-install-recommends "$@" >/dev/null &&
		command -v "$program" >/dev/null 2>&1 && exit 0
fi
echo "$program is missing. On Debian: sudo apt-get install --no-install-recommends $*" >&2
exit 1
