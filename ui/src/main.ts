import { mount } from 'svelte';
import App from './App.svelte';
import './look/tokens.css';
import './look/page.css';

const target = document.getElementById('desk');
if (target) mount(App, { target });
