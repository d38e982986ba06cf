#!/bin/sh
exec lua5.4 tests/command/writing.lua
