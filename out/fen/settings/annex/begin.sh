#!/bin/sh
# Made by thumbwright for Fen: run by harrow-annex before a game.
export HARROW_TONGUE='en'
export HARROW_RIBBONS=1
