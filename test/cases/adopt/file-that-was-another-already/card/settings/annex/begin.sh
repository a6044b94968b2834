# older: yes
